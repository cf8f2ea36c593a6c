const PART = /%[A-Za-z%]/g;

/** Whether a Table Schema date format is one we read without guessing: ISO, or day, month and year in a fixed order. */
export function isFixedDateFormat(format: string): boolean {
  if (format === "default") return true;
  const parts = format.match(PART) ?? [];
  return ["%Y", "%d", "%m"].join() === [...parts].sort().join();
}
