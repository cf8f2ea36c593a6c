/** What computed the reference values; the scripts are kept in tests/reference/scripts. */
export const REFERENCES = {
  survival: "R 4.2.2 with survival 3.5-3",
  written: "the definition written out in R 4.2.2, checked against survival 3.5-3 where that has the test",
  cmprsk: "R 4.2.2 with cmprsk 2.2-11",
  base: "R 4.2.2",
  digits: "60-digit arithmetic with mpmath",
  closed: "closed form, worked out by hand",
} as const;
