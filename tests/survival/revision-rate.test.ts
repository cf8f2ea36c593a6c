import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { revisionRate } from "../../src/survival/revision-rate.ts";
import { expectRelative, numberColumn, referenceRecord, referenceRows } from "../reference/record.ts";
import { rowsOf } from "./some-rows.ts";

const year = TIME_UNITS.year;

function firstPeriod(columns: ObservationColumns, options: Parameters<typeof revisionRate>[1] = {}) {
  const [period] = revisionRate(countsByTime(columns), options).periods;
  if (period?.rate.computed !== true) throw new Error("a rate was expected");
  return { ...period, rate: period.rate };
}

/** One unit per event, the rest of the time in one more unit. Ticks are 1/100 of a year, so that 10482.3 years are whole. */
function withTotals(events: number, years: number): ObservationColumns {
  const ticks = Math.round(years * 100);
  return {
    exit: [...Array.from({ length: events }, () => 1), ticks - events],
    event: [...Array.from({ length: events }, () => 1), 0],
    timeUnit: { word: "day", perYear: 100 },
  };
}

describe("revisionRate() against reference numbers", () => {
  it("gives events per 100 component-years with exact limits", () => {
    const rows = referenceRows("component_years.csv");
    const { expected } = referenceRecord("07_rates", "rate.per_100_component_years");
    const years = numberColumn(rows, "years");
    numberColumn(rows, "events").forEach((events, place) => {
      const { rate, unitYears } = firstPeriod(withTotals(events, years[place] ?? 0));
      expectRelative(unitYears, years[place] ?? 0, 1e-14);
      expectRelative(rate.per100, expected.rate[place], 1e-10);
      expectRelative(rate.lower, expected.lower[place], 1e-10);
      expectRelative(rate.upper, expected.upper[place], 1e-10);
    });
  });

  for (const [percent, level] of [
    ["90", 0.9],
    ["95", 0.95],
    ["99", 0.99],
  ] as const) {
    it(`gives exact and mid-P Poisson limits at ${percent} % from 0 to 1000 events`, () => {
      const { input, expected } = referenceRecord("07_rates", "rate.exact_limits");
      const { counts } = input as { counts: number[] };
      counts.forEach((events, place) => {
        // 2,000 unit-years: limits of the count are 20 times those per 100.
        const { rate } = firstPeriod(withTotals(events, 2000), { level });
        expectRelative(rate.lower * 20, expected[percent].exactLower[place], 1e-10);
        expectRelative(rate.upper * 20, expected[percent].exactUpper[place], 1e-10);
        const mid = firstPeriod(withTotals(events, 2000), { level, method: "mid-p" }).rate;
        expectRelative(mid.lower * 20, expected[percent].midPLower[place], 1e-9);
        expectRelative(mid.upper * 20, expected[percent].midPUpper[place], 1e-9);
      });
    });
  }
});

describe("revisionRate() by period and group", () => {
  it("gives 5 revisions in 45.5 knee-years for twelve knees, 15.5 and 30 by arm", () => {
    // Closed form: sums by hand; limits 1.6235 and 11.6683 for 5 events (standard table of exact Poisson limits).
    const columns = {
      exit: [1, 2, 4, 4, 8, 12, 6, 7, 10, 11, 12, 14],
      event: [2, 3, 1, 0, 1, 0, 0, 3, 1, 0, 2, 0],
      causes: ["loosening", "other", "death"],
      timeUnit: { word: "month", perYear: 2 } as const,
    };
    const event = ["loosening", "other"];
    const { rate, unitYears, events } = firstPeriod(columns, { event });
    expect([unitYears, events]).toEqual([45.5, 5]);
    expect(rate.per100).toBeCloseTo(10.99, 2);
    expect(rate.lower).toBeCloseTo(3.57, 2);
    expect(rate.upper).toBeCloseTo(25.64, 2);
    const group = { codes: [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1], labels: ["A", "B"] };
    const { periods } = revisionRate(countsByTime({ ...columns, group }), { event });
    expect(periods.map((period) => [period.group, period.unitYears, period.events])).toEqual([
      ["A", 15.5, 3],
      ["B", 30, 2],
    ]);
  });

  it("cuts time into (a, b] and puts an event on a period's end into the period that ends there", () => {
    const counts = countsByTime({ exit: [3, 3, 4, 5, 8], event: [1, 0, 1, 1, 0], timeUnit: year });
    const { periods } = revisionRate(counts, { periods: [3, 5] });
    expect(
      periods.map(({ fromYear, toYear, events, unitYears }) => [fromYear, toYear, events, unitYears]),
    ).toEqual([
      [0, 3, 1, 15],
      [3, 5, 2, 5],
      [5, null, 0, 3],
    ]);
  });

  it("counts an event on tick 0 in the first period", () => {
    const { periods } = revisionRate(countsByTime({ exit: [0, 4], event: [1, 0], timeUnit: year }), {
      periods: [2],
    });
    expect(periods[0]).toMatchObject({ events: 1, unitYears: 2 });
  });

  it("adds up over periods to the whole, with late entries and strata, as a loop over rows does", () => {
    // Twin: each row's overlap with each period, added in the plainest way.
    const rows = {
      ...rowsOf(51, { rows: 200, groups: 2, strata: 2, causes: 2, entries: true }),
      timeUnit: year,
    };
    const { periods } = revisionRate(countsByTime(rows), { event: ["cause 1"], periods: [4, 11, 30] });
    const ends = [0, 4, 11, 30, 1e9];
    periods.forEach((period, place) => {
      const [from = 0, to = 0] = ends.slice(place % 4, (place % 4) + 2);
      let [time, events] = [0, 0];
      rows.exit.forEach((exit, row) => {
        if (rows.group.codes[row] !== Math.floor(place / 4)) return;
        time += Math.max(0, Math.min(exit, to) - Math.max(rows.entry?.[row] ?? 0, from, 0));
        if (rows.event[row] === 1 && (exit > from || from === 0) && exit <= to) events += 1;
      });
      expect([period.events, period.unitYears]).toEqual([events, time]);
    });
  });

  it("counts copies as often as they stand for, and gives no rate for sampling weights", () => {
    const columns = { exit: [5, 5], event: [1, 0], timeUnit: year };
    const weight = { kind: "copies" as const, values: [3, 2] };
    expect(firstPeriod({ ...columns, weight })).toMatchObject({ events: 3, unitYears: 25 });
    const [sampled] = revisionRate(
      countsByTime({ ...columns, weight: { ...weight, kind: "sampling" } }),
    ).periods;
    expect(sampled?.rate).toMatchObject({ computed: false, code: "sampling-weights" });
  });

  it("gives no rate for copies that another engine counted in parts", () => {
    const weight = { kind: "copies" as const, values: [3, 2] };
    const counts = countsByTime({ exit: [5, 7], event: [1, 0], weight, timeUnit: year });
    const weighted = counts.cells[0]?.weighted;
    if (weighted === undefined) throw new Error("weighted counts were expected");
    weighted.events[0]![0] = 2.5;
    expect(revisionRate(counts).periods[0]?.rate).toMatchObject({
      computed: false,
      code: "fractional-copies",
    });
  });

  it("gives no rate where nobody was under observation", () => {
    const { periods } = revisionRate(countsByTime({ exit: [2], event: [0], timeUnit: year }), {
      periods: [3],
    });
    expect(periods[1]?.rate).toMatchObject({ computed: false, code: "nobody-under-observation" });
    expect(revisionRate(countsByTime({ exit: [], event: [] })).periods[0]?.rate.computed).toBe(false);
  });

  it("refuses periods out of order, too close or not above 0, and unknown causes", () => {
    const counts = countsByTime({ exit: [2], event: [0], timeUnit: year });
    for (const periods of [[5, 3], [0, 3], [-1], [3, 3.5], [Number.NaN]]) {
      expect(() => revisionRate(counts, { periods })).toThrow("ascending");
    }
    expect(() => revisionRate(counts, { event: ["loosening"] })).toThrow('no cause is named "loosening"');
    // Named twice it would be counted twice.
    expect(() => revisionRate(counts, { event: ["event", "event"] })).toThrow("twice");
    expect(() => revisionRate(counts, { event: [] })).toThrow("names no cause");
    expect(() => revisionRate(counts, { method: "byar" as "exact" })).toThrow("exact, mid-p");
  });
});
