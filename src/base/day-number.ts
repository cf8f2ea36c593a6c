import { ArgumentError } from "./errors.ts";

const MILLISECONDS_PER_DAY = 86_400_000;
const ISO_DATE = /^(\d{4})-(\d{2})-(\d{2})$/;

/**
 * Whole days from 1970-01-01 to an ISO date, or undefined where the text is not a date of the calendar.
 *
 * @example
 * dayNumber("2024-12-31"); // 20088
 * dayNumber("2024-02-30") ?? "no such day"; // "no such day"
 */
export function dayNumber(isoDate: string): number | undefined {
  const parts = ISO_DATE.exec(isoDate);
  if (parts === null) return undefined;
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  const days = Date.UTC(year, month - 1, day) / MILLISECONDS_PER_DAY;
  // Date.UTC rolls 2019-02-30 over to March: a date that does not come back as it went in is refused.
  return dateOfDay(days) === isoDate ? days : undefined;
}

/** As `dayNumber`, for a date that a person wrote into a plan or descriptor. */
export function requiredDayNumber(isoDate: string, where: string): number {
  const day = dayNumber(isoDate);
  if (day === undefined) {
    throw new ArgumentError(`${where}: not a calendar date; received "${isoDate}" (write it as 2024-12-31)`);
  }
  return day;
}

/**
 * ISO date of a day number.
 *
 * @example
 * dateOfDay(20088); // "2024-12-31"
 */
export function dateOfDay(day: number): string {
  return new Date(day * MILLISECONDS_PER_DAY).toISOString().slice(0, 10);
}

/** Calendar year of a day number. */
export function yearOfDay(day: number): number {
  return new Date(day * MILLISECONDS_PER_DAY).getUTCFullYear();
}
