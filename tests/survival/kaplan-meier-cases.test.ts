import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import {
  expectAllRelative,
  numberColumn,
  type ReferenceRecord,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { curveOf, eventRows, survivalAt } from "./curve-helpers.ts";
import { ANY_REVISION, TWELVE_KNEES } from "./fixture-twelve-knees.ts";

describe("kaplanMeier() on twelve knees worked out by hand", () => {
  it("gives any revision as exact fractions with their limits (closed form)", () => {
    const { group: _, ...columns } = TWELVE_KNEES;
    const curve = curveOf(columns, { event: ANY_REVISION });
    const expected = [11 / 12, 33 / 40, 11 / 16, 11 / 20, 11 / 30];
    expectAllRelative(eventRows(curve).survival, expected, 1e-14);
    const [, second, , , last] = eventRows(curve).survival.map((_value, at) => ({
      error: eventRows(curve).standardError[at] ?? 0,
      lower: eventRows(curve).lower[at] ?? 0,
      upper: eventRows(curve).upper[at] ?? 0,
    }));
    expect(second?.error).toBeCloseTo(0.112777, 6);
    expect(second?.lower).toBeCloseTo(0.460946, 6);
    expect(second?.upper).toBeCloseTo(0.95334, 6);
    expect(last?.lower).toBeCloseTo(0.063175, 6);
    expect(last?.upper).toBeCloseTo(0.694564, 6);
  });

  it("gives loosening alone, other revisions and deaths as censorings (closed form)", () => {
    const { group: _, ...columns } = TWELVE_KNEES;
    const curve = curveOf(columns, { event: ["loosening"] });
    const rows = eventRows(curve);
    expectAllRelative(rows.survival, [9 / 10, 3 / 4, 3 / 5], 1e-14);
    expect(rows.standardError[2]).toBeCloseTo(0.184391, 6);
    expect(rows.lower[2]).toBeCloseTo(0.189953, 6);
    expect(rows.upper[2]).toBeCloseTo(0.854617, 6);
    expect(curve.events + curve.censoredAt.reduce((sum, count) => sum + count, 0)).toBe(12);
  });
});

describe("kaplanMeier() on cases known to trip programs", () => {
  it("makes two steps of six knees whose equal days span different leap years", () => {
    const rows = eventRows(
      curveOf({ exit: [1000, 1000, 1000, 1461, 1461, 2000], event: [1, 1, 0, 1, 0, 0] }),
    );
    expect([rows.time, rows.atRisk, rows.events]).toEqual([
      [1000, 1461],
      [6, 3],
      [2, 1],
    ]);
    expectAllRelative(rows.survival, [2 / 3, 4 / 9], 1e-15);
  });

  it("counts a revision on day 0 as an event on day 0 with every knee at risk", () => {
    const curve = curveOf({ exit: [0, 0, 5, 10, 15, 20, 20, 30], event: [1, 0, 1, 0, 1, 0, 0, 0] });
    const rows = eventRows(curve);
    expect(rows.time).toEqual([0, 5, 15]);
    expect(rows.atRisk).toEqual([8, 6, 4]);
    expectAllRelative(rows.survival, [0.875, 0.875 * (5 / 6), 0.546875], 1e-15);
    expect((curve.eventsAt[0] ?? 0) + (curve.censoredAt[0] ?? 0) + (curve.atRisk[1] ?? 0)).toBe(8);
  });

  it("never calls a group without events certain: the lower limit is exact binomial on those at risk", () => {
    const exit = [300, 450, 600, 750, 900, 1050];
    const curve = curveOf({ exit, event: exit.map(() => 0) });
    expect(curve.survival).toEqual([1, 1, 1, 1, 1, 1]);
    expect(curve.limits.every((source) => source === "none seen")).toBe(true);
    expect(curve.upper).toEqual([1, 1, 1, 1, 1, 1]);
    // 0 of 6: 1 − 0.025^(1/6) (closed form).
    expect(curve.lower[0]).toBeCloseTo(0.5407418736, 10);
    expect(curve.lower[5]).toBeCloseTo(0.025, 12);
  });

  it("gives no zero-width interval on three censored knees either (reference data, our convention)", () => {
    const { expected } = referenceRecord("01_kaplan_meier", "km.all_censored");
    const curve = curveOf({
      exit: numberColumn(referenceRows("all_censored.csv"), "time"),
      event: [0, 0, 0],
    });
    expect(curve.survival).toEqual(expected.survival);
    expect(curve.standardError).toEqual(expected.se);
    expect(curve.lower.every((lower, step) => lower !== null && lower < (curve.upper[step] ?? 0))).toBe(true);
  });

  it("takes the value at a day from the step at or before it, not from the next", () => {
    const curve = curveOf({ exit: [120, 300, 450, 600, 777], event: [1, 0, 1, 0, 1] });
    const values = [119, 120, 121, 449, 450, 776, 777].map((day) => survivalAt(curve, day));
    expectAllRelative(values.slice(0, 6), [1, 0.8, 0.8, 0.8, 0.8 * (2 / 3), 0.8 * (2 / 3)], 1e-15);
    expect(values[6]).toBe(0);
  });

  it("finds the ties that rounding hides once times are whole ticks (reference: R survival)", () => {
    const { expected } = referenceRecord("18_float_ties", "floatties.difference");
    const rows = referenceRows("float_ties.csv");
    const days = numberColumn(rows, "days");
    const years = numberColumn(rows, "yearsDifference").map((year) => Math.round(year * 365.25));
    expect(years).toEqual(days);
    const ours = eventRows(curveOf({ exit: years, event: numberColumn(rows, "status") }));
    expectAllRelative(ours.survival, expected.days.km, 1e-9);
    expect(ours.atRisk).toEqual(expected.days.nRisk);
  });

  it("keeps real differences of a thousandth at times near a million (reference: R survival, without its repair)", () => {
    const { input, expected } = referenceRecord("18_float_ties", "floatties.relative") as ReferenceRecord & {
      input: { times: number[]; status: number[] };
    };
    const curve = curveOf({ exit: input.times.map((time) => Math.round(time * 1000)), event: input.status });
    expectAllRelative(curve.survival, expected.kmNoTimefix, 1e-12);
  });
});

describe("kaplanMeier() at stated years", () => {
  const hundred = Array.from({ length: 100 }, (_, at) => at);
  const columns = {
    exit: hundred.map((at) => 300 + 10 * at),
    event: hundred.map((at) => (at % 10 === 0 ? 1 : 0)),
  };

  it("gives the step at or before floor(year × 365.25), with events so far and those at risk that day (closed form)", () => {
    const [first, third] = curveOf(columns, { years: [1, 3] }).atYears;
    // Day 365: the seven knees of days 300 to 360 have left, one of them revised.
    expect(first).toMatchObject({
      computed: true,
      tick: 365,
      value: 0.99,
      atRisk: 93,
      events: 1,
      limits: "variance",
    });
    expect(third).toMatchObject({ computed: false, code: "too-few-at-risk" });
  });

  it("limits a year before any event by the number at risk that day (closed form)", () => {
    const [half] = curveOf(columns, { years: [0.5] }).atYears;
    expect(half).toMatchObject({
      computed: true,
      value: 1,
      upper: 1,
      atRisk: 100,
      events: 0,
      limits: "none seen",
    });
    expect(half?.computed && half.lower).toBeCloseTo(Math.exp(Math.log(0.025) / 100), 12);
  });

  it("says that nobody is left in a year by which all had the event, and gives the year before it", () => {
    const event = hundred.map(() => 1);
    const [before, after] = curveOf(
      { exit: hundred.map((at) => (at < 50 ? 200 : 500)), event },
      {
        years: [1, 500 / 365.25],
      },
    ).atYears;
    expect(before).toMatchObject({ computed: true, value: 0.5, atRisk: 50, events: 50 });
    expect(after).toMatchObject({ computed: false, code: "nobody-left" });
  });

  it("refuses a year beyond all follow-up and every year of a group under 40", () => {
    expect(curveOf(columns, { years: [5] }).atYears[0]).toMatchObject({
      computed: false,
      code: "beyond-follow-up",
    });
    const few = curveOf({ exit: [400, 500], event: [0, 0] }, { years: [1] });
    expect(few.atYears[0]).toMatchObject({ computed: false, code: "group-too-small-to-draw" });
  });
});

describe("kaplanMeier() refuses wrong settings", () => {
  const counts = countsByTime({ exit: [1, 2], event: [1, 0] });

  it("names the level and how to write it", () => {
    expect(() => kaplanMeier(counts, { level: 95 })).toThrow("write 0.95 for 95 %");
  });

  it("lists the causes when asked for one that is not there", () => {
    expect(() => kaplanMeier(counts, { event: ["wear"] })).toThrow('no cause is named "wear"');
    expect(() => kaplanMeier(counts, { event: [] })).toThrow("names no cause");
  });

  it("does not take sampling weights for copies", () => {
    const weighted = countsByTime({
      exit: [1, 2],
      event: [1, 0],
      weight: { kind: "sampling", values: [1.5, 2] },
    });
    expect(() => kaplanMeier(weighted)).toThrow("clusteredSurvival");
  });

  it("refuses a start that is no tick, a year that is none and a scale that is none", () => {
    for (const from of [0.5, -1, Number.NaN]) {
      expect(() => kaplanMeier(counts, { from })).toThrow("whole tick");
    }
    for (const year of [Number.NaN, -1, Number.POSITIVE_INFINITY]) {
      expect(() => kaplanMeier(counts, { years: [year] })).toThrow("finite");
    }
    // A notebook in plain JavaScript may ask for anything.
    const scale = "logit" as "log";
    expect(() => kaplanMeier(counts, { scale })).toThrow("scale must be one of");
  });
});
