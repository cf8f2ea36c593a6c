const PART = /%[A-Za-z%]/g;

/**
 * Whether a Table Schema date format is one we read without guessing: ISO, or day, month and year in a fixed order.
 * A year of two digits (%y) is one only where the dictionary says which hundred years are meant.
 */
export function isFixedDateFormat(format: string, twoDigitYearsFrom?: number): boolean {
  if (format === "default") return true;
  const parts = [...(format.match(PART) ?? [])].sort().join();
  return parts === "%Y,%d,%m" || (parts === "%d,%m,%y" && twoDigitYearsFrom !== undefined);
}
