/** Findings about a cell that was refused: it counts as missing. */
export const UNREADABLE_CODES: readonly string[] = [
  ...["value-not-a-date", "date-is-serial-number", "value-not-a-number", "word-not-in-dictionary"],
  ...["cell-merged", "cell-is-error", "formula-without-value", "cell-is-date", "date-has-time"],
  "number-lost-digits",
];

/** Findings about a cell whose value is not the text as it was written. */
export const CHANGED_CODES: readonly string[] = [
  "spaces-around-value",
  "word-respelt",
  "main-reason-by-order",
];
