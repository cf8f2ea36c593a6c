import type { DayColumn } from "../base/column.ts";
import { dayNumber, yearOfDay } from "../base/day-number.ts";
import type { CollectedWords } from "./word-collector.ts";

/** Whoever is operated on a knee is old enough to tell a birth from any other date of the row. */
const YOUNGEST_YEARS = 16;
const OLDEST_YEARS = 110;
const LEAST_SHARE = 0.8;

/**
 * In how many rows a date can only be a birth: 16 to 110 years before the operation. 0 where fewer than four in five of
 * the dates are like that, so that one wrong century among visits is no date of birth.
 */
export function birthDates(column: DayColumn, operated: DayColumn): number {
  const yearOfRow = (row: number) => (column.missing[row] === 0 ? column.values[row]! / 365.25 : undefined);
  return countBirths(yearOfRow, (row) => operated.values[row]! / 365.25, operated.missing);
}

const WRITTEN_DATE = /^(?:(\d{4})[-./]\d{1,2}[-./]\d{1,2}|\d{1,2}[-./]\d{1,2}[-./](\d{4}))\b/;

/** The same for dates that stand as text, of which the year is read. */
export function writtenBirthDates(
  words: readonly string[],
  wordOfRow: (row: number) => number | undefined,
  operated: DayColumn,
): number {
  const years = words.map(writtenYear);
  if (years.every((year) => year === undefined)) return 0;
  const yearOfRow = (row: number) => {
    const word = wordOfRow(row);
    return word === undefined ? undefined : years[word];
  };
  return countBirths(yearOfRow, (row) => yearOfDay(operated.values[row]!), operated.missing);
}

/** A column of written dates as the first days of their years: enough to tell births by. */
export function writtenYears(field: string, { words, indexOfRow }: CollectedWords): DayColumn {
  const days = words.map((word) => {
    const year = writtenYear(word);
    return year === undefined ? undefined : dayNumber(`${String(year).padStart(4, "0")}-01-01`);
  });
  return {
    kind: "day",
    field,
    values: Int32Array.from(indexOfRow, (word) => days[word] ?? 0),
    missing: Uint8Array.from(indexOfRow, (word) => (days[word] === undefined ? 1 : 0)),
    missingReasons: ["no date"],
  };
}

function writtenYear(word: string): number | undefined {
  const parts = WRITTEN_DATE.exec(word.trim());
  const year = parts?.[1] ?? parts?.[2];
  return year === undefined ? undefined : Number(year);
}

function countBirths(
  yearOfRow: (row: number) => number | undefined,
  operatedOfRow: (row: number) => number,
  missing: Uint8Array,
): number {
  let [births, dates] = [0, 0];
  for (let row = 0; row < missing.length; row += 1) {
    const year = missing[row] === 0 ? yearOfRow(row) : undefined;
    if (year === undefined) continue;
    const before = operatedOfRow(row) - year;
    dates += 1;
    if (before >= YOUNGEST_YEARS && before <= OLDEST_YEARS) births += 1;
  }
  return births >= LEAST_SHARE * dates ? births : 0;
}
