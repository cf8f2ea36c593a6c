import type { DayColumn, NumberColumn } from "../base/column.ts";
import { dateOfDay, dayNumber } from "../base/day-number.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import type { CaseRole } from "./roles.ts";

/** Fewer values say nothing about how they were written. */
const FEWEST_VALUES = 100;
/** One day in 30 is the first of a month; three times as many are not chance. */
const MOST_ON_ONE_DAY_OF_MONTH = 0.1;
/** One number in five ends in 0 or 5; twice as many are rounded. */
const MOST_ROUND = 0.4;
/** Numbers that hardly differ are grades, not amounts. */
const FEWEST_DIFFERENT = 20;

const DATES: readonly CaseRole[] = [
  "operationDate",
  "revisionDate",
  "deathDate",
  "emigrationDate",
  "lastFollowUpDate",
];

/**
 * Dates and amounts that are written on round values too often to have been measured.
 *
 * A date of which only the month was known stands on the first or the fifteenth; follow-up from it is wrong by weeks. The
 * data cut is a declared date of last contact and is left out of the count. Limits by judgement, no source.
 */
export function reportHeaping(cases: Cases, log: FindingLog): void {
  const cut = dayNumber(cases.descriptor.study.dataCut ?? "");
  for (const role of DATES) {
    const column = columnOfRole(cases, role);
    if (column?.kind === "day") reportHeapedDays(column, cut, log);
  }
  for (const column of cases.columns.values()) {
    if (column.kind === "number") reportRoundNumbers(column, log);
  }
}

function reportHeapedDays(column: DayColumn, cut: number | undefined, log: FindingLog): void {
  const ofMonth = new Float64Array(32);
  const dayOfMonth = daysOfMonth(column);
  let present = 0;
  for (let row = 0; row < column.values.length; row += 1) {
    // In range: columns have a value for every row, and the table spans them.
    const day = column.values[row]!;
    if (column.missing[row] !== 0 || day === cut) continue;
    present += 1;
    ofMonth[dayOfMonth(day)]! += 1;
  }
  const most = ofMonth.indexOf(Math.max(...ofMonth));
  const share = ofMonth[most]! / present;
  if (present < FEWEST_VALUES || share < MOST_ON_ONE_DAY_OF_MONTH) return;
  const details = { day: most, percent: Math.round(100 * share), dates: present };
  log.add({ code: "dates-heaped", severity: "warning", field: column.field, details });
}

/** Asking the calendar once a day, not once a row. */
function daysOfMonth({ values, missing }: DayColumn): (day: number) => number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let row = 0; row < values.length; row += 1) {
    if (missing[row] !== 0) continue;
    const day = values[row]!;
    if (day < low) low = day;
    if (day > high) high = day;
  }
  const table = new Uint8Array(Math.max(0, high - low + 1));
  return (day) => {
    const known = table[day - low]!;
    if (known > 0) return known;
    const ofMonth = Number(dateOfDay(day).slice(8));
    table[day - low] = ofMonth;
    return ofMonth;
  };
}

function reportRoundNumbers({ field, values, missing }: NumberColumn, log: FindingLog): void {
  const ofDigit = new Float64Array(10);
  const different = new Set<number>();
  let present = 0;
  for (let row = 0; row < values.length; row += 1) {
    if (missing[row] !== 0) continue;
    const whole = Math.trunc(Math.abs(values[row]!));
    present += 1;
    ofDigit[whole % 10]! += 1;
    if (different.size < FEWEST_DIFFERENT) different.add(whole);
  }
  const share = (ofDigit[0]! + ofDigit[5]!) / present;
  if (present < FEWEST_VALUES || different.size < FEWEST_DIFFERENT || share < MOST_ROUND) return;
  const details = { percent: Math.round(100 * share), values: present };
  log.add({ code: "numbers-rounded", severity: "note", field, details });
}
