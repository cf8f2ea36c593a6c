import type { NotComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { TIME_UNITS } from "../base/time-unit.ts";
import { preciseSum } from "../numeric/precise-sum.ts";
import { calendarPieces } from "./calendar-pieces.ts";
import { checkObservations } from "./check-observations.ts";
import { eventIndexes } from "./event-roles.ts";
import type { LabelledCodes, ObservationColumns, Observations } from "./observations.ts";
import { OLDEST, type RateBand, type RateTable, rateTable } from "./rate-table.ts";

/** Follow-up in days with what a rate table asks of each row. */
export interface ExpectedRows extends ObservationColumns {
  /** Date of tick 0, in whole days since 1970-01-01. */
  readonly startDay: ArrayLike<number>;
  /**
   * Age at tick 0, in days or in years. Decimal years become whole days, halves up. An age in completed years is taken as
   * the birthday itself: add one half to stand for the year that follows it.
   */
  readonly ageAtStart: { readonly unit: "days" | "years"; readonly values: ArrayLike<number> };
  readonly sex: LabelledCodes;
}

export interface ExpectedOptions {
  /** Causes counted as events observed. Default all. */
  readonly event?: readonly string[];
}

/** A combination of sex, age and calendar year for which the table has no rate. */
export interface MissingRate {
  readonly sex: string;
  readonly age: number;
  readonly year: number;
}

export type ExpectedCount =
  | { readonly computed: true; readonly events: number }
  /** `missing` is for analysts: it may tell the age of one case. */
  | (NotComputed & { readonly missing: readonly MissingRate[] });

export interface ExpectedEvents {
  readonly kind: "expectedEvents";
  readonly settings: { readonly event: readonly string[] };
  readonly groups: readonly {
    readonly group: string;
    readonly observed: number;
    readonly unitYears: number;
    readonly expected: ExpectedCount;
  }[];
}

/**
 * How many events a table of rates by sex, age and calendar year would have led one to expect, by group.
 *
 * Time under observation is split at birthdays and at New Year in whole days of the calendar, and each piece brings its
 * share of the rate of its cell. A stay is (entry, exit]: a day's time belongs to the date on which an event of that day
 * would fall. A cell with time but without a rate is not guessed: the group's number is refused, with the list of such
 * cells. Copies count as often as they stand for.
 *
 * Set `observed` against it with `observedAgainstExpected`. A table made of the same cases expects what was observed.
 *
 * Source: Berry 1983; Breslow and Day 1987, chapter 2.
 *
 * @throws ArgumentError for follow-up in other units than days, sampling weights, columns of another length, an age, a
 *   date or a sex that is none, and two rates for one cell.
 *
 * @example
 * expectedEvents(
 *   {
 *     exit: [365, 730],
 *     event: [1, 0],
 *     startDay: [dayNumber("2010-01-01") ?? 0, dayNumber("2010-01-01") ?? 0],
 *     ageAtStart: { unit: "years", values: [60, 65] },
 *     sex: { codes: [0, 0], labels: ["female"] },
 *   },
 *   [{ sex: "female", fromAge: 50, fromYear: 2000, toYear: 2020, per100: 1 }],
 * ).groups[0]; // 1 observed, 0.030 expected in 3.00 unit-years
 */
export function expectedEvents(
  rows: ExpectedRows,
  bands: readonly RateBand[],
  options: ExpectedOptions = {},
): ExpectedEvents {
  const observations = checkObservations(rows);
  const { causes, timeUnit, weight, group } = observations;
  const { event = causes } = options;
  const wanted = new Set(eventIndexes("expectedEvents", causes, event));
  if (timeUnit.perYear !== TIME_UNITS.day.perYear)
    throw new ArgumentError("expectedEvents: follow-up must be in days, which birthdays and New Year are");
  if (weight?.kind === "sampling")
    throw new ArgumentError("expectedEvents: sampling weights are no counts to expect; use copies or none");
  const people = peopleOf(rows, observations);
  const table = rateTable("expectedEvents", bands, rows.sex.labels);
  const lived = group.labels.map(() => nothingLived(causes.length, table.size));
  for (let row = 0; row < observations.rows; row += 1) addRow(lived, observations, row, people, table);
  return {
    kind: "expectedEvents",
    settings: { event: [...event] },
    groups: lived.map((one, at) => ({
      group: group.labels[at] ?? "",
      observed: preciseSum(one.events.filter((_, cause) => wanted.has(cause))),
      unitYears: (preciseSum(one.days) + one.outsideDays) / timeUnit.perYear,
      expected: expectedIn(one, table, rows.sex.labels),
    })),
  };
}

/** What one group went through: events by cause, and days by cell of the table. */
interface Lived {
  readonly events: number[];
  readonly days: Float64Array;
  /** Cells beyond the ages and years of the table. */
  readonly outside: Map<string, { readonly sex: number; readonly age: number; readonly year: number }>;
  outsideDays: number;
}

function nothingLived(causes: number, size: number): Lived {
  return {
    events: new Array<number>(causes).fill(0),
    days: new Float64Array(size),
    outside: new Map(),
    outsideDays: 0,
  };
}

function addRow(
  lived: readonly Lived[],
  { group, weight, event, entry, exit }: Observations,
  row: number,
  people: People,
  table: RateTable,
): void {
  const own = lived[group.codes[row] ?? 0];
  const copies = weight?.values[row] ?? 1;
  if (own === undefined || copies === 0) return;
  const cause = (event[row] ?? 0) - 1;
  if (cause >= 0) own.events[cause]! += copies;
  // The columns were checked to have one element a row.
  const [start, sex] = [people.startDay[row]!, people.sex[row]!];
  const from = Math.max(0, entry?.[row] ?? 0);
  calendarPieces(start, start - people.ageDays[row]!, from, exit[row]!, (age, year, days) => {
    const place = table.place(sex, age, year);
    if (place >= 0) own.days[place]! += copies * days;
    else {
      own.outsideDays += copies * days;
      own.outside.set(`${sex} ${age} ${year}`, { sex, age, year });
    }
  });
}

function expectedIn({ days, outside }: Lived, table: RateTable, sexes: readonly string[]): ExpectedCount {
  const lacking = [...outside.values()];
  const shares: number[] = [];
  days.forEach((sum, place) => {
    if (sum === 0) return;
    const rate = table.per100[place] ?? Number.NaN;
    if (Number.isNaN(rate)) lacking.push(table.cellAt(place));
    else shares.push((sum / TIME_UNITS.day.perYear) * (rate / 100));
  });
  if (lacking.length === 0) return { computed: true, events: preciseSum(shares) };
  lacking.sort((a, b) => a.sex - b.sex || a.year - b.year || a.age - b.age);
  return {
    computed: false,
    code: "rates-missing",
    because: "the table of rates lacks combinations of sex, age and calendar year that were lived through",
    missing: lacking.map(({ sex, age, year }) => ({ sex: sexes[sex] ?? "", age, year })),
  };
}

interface People {
  readonly startDay: Int32Array;
  readonly ageDays: Int32Array;
  readonly sex: Uint16Array;
}

// Years 1700 to 2243: any date a row may have; numbers of seconds or milliseconds in place of days lie outside.
const [FIRST_DAY, LAST_DAY] = [-98_616, 100_000];
const MOST_AGE_DAYS = OLDEST * TIME_UNITS.day.perYear;

function peopleOf({ startDay, ageAtStart, sex }: ExpectedRows, { rows, exit }: Observations): People {
  const { unit, values } = ageAtStart;
  if (unit !== "days" && unit !== "years")
    throw new ArgumentError("expectedEvents: ageAtStart needs the unit days or years");
  const toDays = (age: number) => (unit === "days" ? age : Math.floor(age * TIME_UNITS.day.perYear + 0.5));
  const start = whole("startDay", startDay, rows, FIRST_DAY, LAST_DAY, (day) => day);
  const tooLate = start.findIndex((day, row) => day + (exit[row] ?? 0) > LAST_DAY);
  if (tooLate >= 0)
    throw new ArgumentError(`expectedEvents: row ${tooLate + 1}, exit: lies beyond the calendar in use`);
  return {
    startDay: Int32Array.from(start),
    ageDays: Int32Array.from(whole("ageAtStart", values, rows, 0, MOST_AGE_DAYS, toDays)),
    sex: Uint16Array.from(whole("sex", sex.codes, rows, 0, sex.labels.length - 1, (code) => code)),
  };
}

function whole(
  name: string,
  source: ArrayLike<number>,
  rows: number,
  least: number,
  most: number,
  turned: (value: number) => number,
): Float64Array {
  if (source.length !== rows) {
    throw new ArgumentError(
      `expectedEvents: ${name} has ${source.length} elements and exit has ${rows}; every column needs one element a row`,
    );
  }
  return Float64Array.from(source, (value, row) => {
    const number = turned(value);
    if (Number.isInteger(number) && number >= least && number <= most) return number;
    throw new ArgumentError(
      `expectedEvents: row ${row + 1}, ${name}: must be a whole number from ${least} to ${most} (ages in years may be decimal)`,
    );
  });
}
