import { type CellParser, wholeNumberAt } from "./value-cell.ts";

const DAYS_BEFORE_MONTH = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];
const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const FEBRUARY = 2;
/** Days from 0001-01-01 to 1970-01-01. */
const DAYS_TO_1970 = 719_162;

/**
 * Whole days since 1970-01-01 of dates in one fixed format, "default" or one with %d, %m and %Y.
 *
 * Every part has all its digits; 30 February, one-digit months and the year 0 are no dates. With %y, which needs the
 * first of the hundred years that two digits can mean, 30 from 1930 on is 1930 and 29 is 2029.
 */
export function dayParser(
  format: string,
  encode: (text: string) => Uint8Array | undefined,
  twoDigitYearsFrom?: number,
): CellParser {
  const layout = dateLayout(format === "default" ? "%Y-%m-%d" : format, encode);
  if (layout === undefined) return () => undefined;
  const { length, year, yearDigits, month, day, marks } = layout;
  const fullYear = (written: number) =>
    yearDigits === 4 || written < 0 ? written : yearWithin(written, twoDigitYearsFrom);
  return (bytes, start, end) => {
    if (end - start !== length) return undefined;
    for (const { place, byte } of marks) if (bytes[start + place] !== byte) return undefined;
    return calendarDay(
      fullYear(wholeNumberAt(bytes, start + year, yearDigits)),
      wholeNumberAt(bytes, start + month, 2),
      wholeNumberAt(bytes, start + day, 2),
    );
  };
}

/** Where the parts of a date stand, and the bytes between them. */
interface DateLayout {
  readonly length: number;
  readonly year: number;
  readonly yearDigits: number;
  readonly month: number;
  readonly day: number;
  readonly marks: readonly { readonly place: number; readonly byte: number }[];
}

const PARTS = { "%Y": "year", "%y": "year", "%m": "month", "%d": "day" } as const;

/** The year of the hundred from `first` on that ends in these two digits; -1 where the hundred is not stated. */
function yearWithin(digits: number, first: number | undefined): number {
  if (first === undefined) return -1;
  const year = first - (first % 100) + digits;
  return year < first ? year + 100 : year;
}

/** Undefined where the encoding of the file cannot hold the text between the parts. */
function dateLayout(
  format: string,
  encode: (text: string) => Uint8Array | undefined,
): DateLayout | undefined {
  const places = { year: 0, month: 0, day: 0 };
  const yearDigits = format.includes("%y") ? 2 : 4;
  const marks: { place: number; byte: number }[] = [];
  let length = 0;
  for (const piece of format.split(/(%[Yymd])/)) {
    const part = PARTS[piece as keyof typeof PARTS] as "year" | "month" | "day" | undefined;
    if (part !== undefined) {
      places[part] = length;
      length += part === "year" ? yearDigits : 2;
      continue;
    }
    const bytes = encode(piece);
    if (bytes === undefined) return undefined;
    for (const byte of bytes) marks.push({ place: length++, byte });
  }
  return { length, ...places, yearDigits, marks };
}

/** A part that holds anything but digits is below 0. */
function calendarDay(year: number, month: number, day: number): number | undefined {
  if (year < 1 || month < 1 || month > 12 || day < 1) return undefined;
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  // The month is from 1 to 12.
  const longest = DAYS_IN_MONTH[month - 1]! + (isLeap && month === FEBRUARY ? 1 : 0);
  if (day > longest) return undefined;
  const before = year - 1;
  // Years are positive, so whole division is that of 32-bit numbers.
  const leapDays = ((before / 4) | 0) - ((before / 100) | 0) + ((before / 400) | 0);
  const ownLeapDay = isLeap && month > FEBRUARY ? 1 : 0;
  return 365 * before + leapDays + ownLeapDay + DAYS_BEFORE_MONTH[month - 1]! + day - 1 - DAYS_TO_1970;
}
