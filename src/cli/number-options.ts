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

/** A whole number from 1 up. */
export function wholeNumber(option: string, text: string): number {
  const number = Number(text);
  if (isNumber(text) && number >= 1 && Number.isSafeInteger(number)) return number;
  throw new UsageError("not-whole", `${option}: write a whole number from 1 up; received "${text}"`);
}

/** A ratio that is a difference. */
export function ratioOption(option: string, text: string): number {
  const ratio = numberOption(option, text);
  if (ratio !== 1) return ratio;
  throw new UsageError(
    "no-difference",
    `${option}: a ratio of 1 is no difference; write another, such as 1.5`,
  );
}

/** A difference among 1000: above 0 and below all of them. */
export function differencePer1000(option: string, text: string): number {
  const difference = numberOption(option, text);
  if (difference < 1000) return difference;
  throw new UsageError(
    "not-per-1000",
    `${option}: write a number below 1000, such as 5 for five in a thousand; received "${text}"`,
  );
}

function isNumber(text: string): boolean {
  return /^\d+(\.\d+)?$/.test(text);
}
