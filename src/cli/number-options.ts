import { UsageError } from "../base/errors.ts";

/** "5,10": numbers above 0, each larger than the one before. */
export function risingYears(option: string, text: string): number[] {
  const years = text.split(",").map((part) => (isNumber(part.trim()) ? Number(part) : 0));
  if (years.every((year, at) => year > (years[at - 1] ?? 0))) return years;
  throw new UsageError(
    "not-years",
    `${option}: write rising numbers of years such as 5,10; received "${text}"`,
  );
}

/** A number above 0. */
export function numberOption(option: string, text: string): number {
  if (isNumber(text) && Number(text) > 0) return Number(text);
  throw new UsageError("not-a-number", `${option}: write a number above 0; received "${text}"`);
}

function isNumber(text: string): boolean {
  return /^\d+(\.\d+)?$/.test(text);
}
