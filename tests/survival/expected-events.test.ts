import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateOfDay, dayNumber } from "../../src/base/day-number.ts";
import { calendarPieces } from "../../src/survival/calendar-pieces.ts";
import { type ExpectedRows, expectedEvents } from "../../src/survival/expected-events.ts";
import { observedAgainstExpected } from "../../src/survival/observed-against-expected.ts";
import type { RateBand } from "../../src/survival/rate-table.ts";

const day = (date: string) => dayNumber(date) ?? Number.NaN;

/** One flat rate for both sexes over all ages and years. */
const flat = (per100: number): RateBand[] =>
  ["F", "M"].map((sex) => ({ sex, fromAge: 0, fromYear: 1800, toYear: 2090, per100 }));

const ONE_CASE: ExpectedRows = {
  exit: [400],
  event: [1],
  startDay: [day("2019-06-10")],
  ageAtStart: { unit: "days", values: [day("2019-06-10") - day("1950-06-15")] },
  sex: { codes: [0], labels: ["F", "M"] },
};

/** Four cells that the case above lives through, with rates that tell them apart in the sum. */
const FOUR: RateBand[] = [
  { sex: "F", fromAge: 68, toAge: 68, fromYear: 2019, toYear: 2019, per100: 1 },
  { sex: "F", fromAge: 69, toAge: 69, fromYear: 2019, toYear: 2019, per100: 20 },
  { sex: "F", fromAge: 69, toAge: 69, fromYear: 2020, toYear: 2020, per100: 300 },
  { sex: "F", fromAge: 70, fromYear: 2020, toYear: 2020, per100: 4000 },
];

const only = (rows: ExpectedRows, bands: readonly RateBand[]) => {
  const [group] = expectedEvents(rows, bands).groups;
  if (group === undefined) throw new Error("a group was expected");
  return group;
};

function eventsOf(rows: ExpectedRows, bands: readonly RateBand[]): number {
  const { expected } = only(rows, bands);
  if (!expected.computed) throw new Error(expected.code);
  return expected.events;
}

/** Completed years of age on a date, from the texts of the two dates alone. */
function ageOn(birth: string, date: string): number {
  return Number(date.slice(0, 4)) - Number(birth.slice(0, 4)) - (date.slice(5) < birth.slice(5) ? 1 : 0);
}

describe("calendarPieces()", () => {
  const pieces = (start: string, birth: string, entry: number, exit: number) => {
    const list: number[][] = [];
    calendarPieces(day(start), day(birth), entry, exit, (...piece) => list.push(piece));
    return list;
  };

  it("splits 400 days at two birthdays and a New Year (closed form, counted on a calendar)", () => {
    expect(pieces("2019-06-10", "1950-06-15", 0, 400)).toEqual([
      [68, 2019, 4],
      [69, 2019, 200],
      [69, 2020, 166],
      [70, 2020, 30],
    ]);
  });

  it("puts the day after the start on the start's date plus one, so that an event on New Year falls into the new year", () => {
    expect(pieces("2019-12-31", "1950-06-15", 0, 1)).toEqual([[69, 2020, 1]]);
    expect(pieces("2019-12-30", "1950-06-15", 0, 1)).toEqual([[69, 2019, 1]]);
    expect(pieces("2019-12-31", "1950-01-01", 0, 1)).toEqual([[70, 2020, 1]]);
    expect(pieces("2019-12-31", "1950-01-01", 0, 0)).toEqual([]);
  });

  it("gives who was born on 29 February the birthday on 1 March in a common year", () => {
    expect(pieces("2019-02-27", "1952-02-29", 0, 3)).toEqual([
      [66, 2019, 1],
      [67, 2019, 2],
    ]);
    expect(pieces("2020-02-27", "1952-02-29", 0, 3)).toEqual([
      [67, 2020, 1],
      [68, 2020, 2],
    ]);
  });

  it("agrees with asking each day for its year and age (twin)", () => {
    const stay = fc.record({
      start: fc.integer({ min: day("1985-01-01"), max: day("2024-12-31") }),
      age: fc.integer({ min: 0, max: 36_500 }),
      entry: fc.integer({ min: 0, max: 800 }),
      stay: fc.integer({ min: 0, max: 1500 }),
    });
    fc.assert(
      fc.property(stay, ({ start, age, entry, stay: days }) => {
        const birth = dateOfDay(start - age);
        fc.pre(!birth.endsWith("02-29"));
        const naive = new Map<string, number>();
        for (let at = entry + 1; at <= entry + days; at += 1) {
          const date = dateOfDay(start + at);
          const cell = `${ageOn(birth, date)} ${date.slice(0, 4)}`;
          naive.set(cell, (naive.get(cell) ?? 0) + 1);
        }
        const ours = new Map<string, number>();
        calendarPieces(start, start - age, entry, entry + days, (years, year, sum) =>
          ours.set(`${years} ${year}`, sum),
        );
        expect(ours).toEqual(naive);
      }),
      { seed: 20_260_202, numRuns: 60 },
    );
  });
});

describe("expectedEvents()", () => {
  it("adds each cell's share of a year times its rate (closed form)", () => {
    const wanted = (4 * 0.01 + 200 * 0.2 + 166 * 3 + 30 * 40) / 365.25;
    expect(eventsOf(ONE_CASE, FOUR)).toBeCloseTo(wanted, 14);
    expect(only(ONE_CASE, FOUR)).toMatchObject({ observed: 1, unitYears: 400 / 365.25 });
  });

  it("expects rate times time under one flat rate, by group, with late entries and copies", () => {
    const rows: ExpectedRows = {
      exit: [1000, 2000, 700, 50],
      entry: [-1, 500, 0, 10],
      event: [1, 0, 1, 1],
      weight: { kind: "copies", values: [1, 3, 2, 0] },
      group: { codes: [0, 0, 1, 1], labels: ["a", "b", "empty"] },
      startDay: [0, 10_000, 15_000, 16_000],
      ageAtStart: { unit: "years", values: [60, 71.5, 80, 90] },
      sex: { codes: [0, 1, 1, 0], labels: ["F", "M"] },
    };
    const { groups } = expectedEvents(rows, flat(2));
    expect(groups.map(({ observed, unitYears }) => [observed, unitYears * 365.25])).toEqual([
      [1, 1000 + 3 * 1500],
      [2, 2 * 700],
      [0, 0],
    ]);
    for (const { expected, unitYears } of groups) {
      expect(expected.computed && expected.events).toBeCloseTo(unitYears * 0.02, 13);
    }
  });

  it("expects what was observed where the table was made of the same cases (identity)", () => {
    // Rates by calendar year: events over unit-years of each, which the sum gives back.
    const exit = Array.from({ length: 60 }, (_, at) => 200 + 37 * at);
    const event = exit.map((_, at) => (at % 3 === 0 ? 1 : 0));
    const startDay = exit.map((_, at) => 16_000 + 11 * at);
    const rows: ExpectedRows = {
      exit,
      event,
      startDay,
      ageAtStart: { unit: "years", values: exit.map((_, at) => 55 + (at % 30)) },
      sex: { codes: exit.map(() => 0), labels: ["F"] },
    };
    const years = new Map<number, { events: number; days: number }>();
    exit.forEach((last, row) => {
      for (let at = 1; at <= last; at += 1) {
        const year = Number(dateOfDay((startDay[row] ?? 0) + at).slice(0, 4));
        const sum = years.get(year) ?? { events: 0, days: 0 };
        sum.days += 1;
        if (at === last) sum.events += event[row] ?? 0;
        years.set(year, sum);
      }
    });
    const bands = [...years].map(([year, { events, days }]) => ({
      sex: "F",
      fromAge: 0,
      fromYear: year,
      toYear: year,
      per100: (100 * events * 365.25) / days,
    }));
    const { observed, expected } = only(rows, bands);
    expect(observed).toBe(20);
    expect(expected.computed && expected.events).toBeCloseTo(20, 11);
    const ratio = observedAgainstExpected(observed, expected.computed ? expected.events : 0);
    expect(ratio.computed && ratio.ratio).toBeCloseTo(1, 12);
  });

  it("counts only the causes asked about", () => {
    const rows = { ...ONE_CASE, causes: ["revision", "death"] };
    expect(expectedEvents(rows, FOUR, { event: ["death"] }).groups[0]?.observed).toBe(0);
    expect(expectedEvents(rows, FOUR).groups[0]?.observed).toBe(1);
  });

  it("turns decimal years into whole days, halves up", () => {
    const at = (age: number) => ({ ...ONE_CASE, ageAtStart: { unit: "years" as const, values: [age] } });
    const born = (date: string) => (day("2019-06-10") - day(date)) / 365.25;
    expect(eventsOf(at(born("1950-06-15")), FOUR)).toBe(eventsOf(ONE_CASE, FOUR));
  });

  it("lists the cells without a rate, in and beyond the table, and computes the groups that have all", () => {
    const rows: ExpectedRows = {
      exit: [400, 4],
      event: [1, 0],
      group: { codes: [0, 1], labels: ["long", "short"] },
      startDay: [day("2019-06-10"), day("2019-06-10")],
      ageAtStart: { unit: "days", values: [25_197, 25_197] },
      sex: { codes: [0, 0], labels: ["F", "M"] },
    };
    const { groups } = expectedEvents(rows, FOUR.slice(0, 2));
    expect(groups[0]?.expected).toEqual({
      computed: false,
      code: "rates-missing",
      because: expect.stringMatching(/^the table of rates lacks \D+$/),
      missing: [
        { sex: "F", age: 69, year: 2020 },
        { sex: "F", age: 70, year: 2020 },
      ],
    });
    expect(groups[1]?.expected).toEqual({ computed: true, events: (4 * 0.01) / 365.25 });
    // A hole inside the span of the table.
    const holed = FOUR.filter(({ per100 }) => per100 !== 20);
    expect(only(ONE_CASE, holed).expected).toMatchObject({ missing: [{ sex: "F", age: 69, year: 2019 }] });
    expect(only(ONE_CASE, []).expected).toMatchObject({ computed: false, code: "rates-missing" });
  });

  it("takes nobody, and a case without any time", () => {
    const nobody = { exit: [], event: [], startDay: [], ageAtStart: { unit: "days" as const, values: [] } };
    expect(only({ ...nobody, sex: { codes: [], labels: ["F"] } }, [])).toMatchObject({
      observed: 0,
      unitYears: 0,
      expected: { computed: true, events: 0 },
    });
    expect(only({ ...ONE_CASE, exit: [0] }, [])).toMatchObject({ observed: 1, expected: { events: 0 } });
  });

  it("refuses rows it cannot place", () => {
    const refused = (change: Partial<ExpectedRows>) => () => expectedEvents({ ...ONE_CASE, ...change }, FOUR);
    expect(refused({ timeUnit: { word: "month", perYear: 12 } })).toThrow("must be in days");
    expect(refused({ weight: { kind: "sampling", values: [1.5] } })).toThrow("sampling weights");
    expect(refused({ startDay: [] })).toThrow("startDay has 0 elements");
    expect(refused({ startDay: [1.5] })).toThrow("row 1, startDay");
    expect(refused({ startDay: [1_560_124_800] })).toThrow("row 1, startDay");
    expect(refused({ exit: [2_000_000_000] })).toThrow("row 1, exit");
    for (const age of [-1, 140, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(refused({ ageAtStart: { unit: "years", values: [age] } })).toThrow("row 1, ageAtStart");
    }
    expect(refused({ ageAtStart: { unit: "days", values: [0.5] } })).toThrow("row 1, ageAtStart");
    expect(refused({ ageAtStart: { unit: "weeks" as "days", values: [0] } })).toThrow("days or years");
    expect(refused({ sex: { codes: [2], labels: ["F", "M"] } })).toThrow("row 1, sex");
  });

  it("refuses tables that contradict themselves", () => {
    const [band] = FOUR;
    const refused = (change: Partial<RateBand>, second: readonly RateBand[] = []) =>
      expect(() => expectedEvents(ONE_CASE, [...second, { ...band, ...change } as RateBand]));
    refused({}, FOUR).toThrow("rate 5 of the table overlaps an earlier one at age 68 in 2019");
    for (const ages of [{ fromAge: 70, toAge: 69 }, { fromAge: -1 }, { toAge: 68.5 }, { toAge: 131 }]) {
      refused(ages).toThrow("rate 1 of the table: ages");
    }
    for (const years of [{ fromYear: 2020, toYear: 2019 }, { toYear: Number.NaN }]) {
      refused(years).toThrow("calendar years");
    }
    for (const per100 of [-1, Number.NaN, Number.POSITIVE_INFINITY]) refused({ per100 }).toThrow("per100");
    refused({ fromYear: 1000, toYear: 2019 }).toThrow("more than 300 years");
  });
});
