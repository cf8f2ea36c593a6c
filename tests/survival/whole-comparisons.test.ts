import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { normalUpper } from "../../src/numeric/normal.ts";
import { clusteredRate } from "../../src/survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../src/survival/clustered-restricted-mean.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { exactRateComparison } from "../../src/survival/exact-rate-comparison.ts";
import { grayTest } from "../../src/survival/gray-test.ts";
import { restrictedMean } from "../../src/survival/restricted-mean.ts";
import { revisionRate } from "../../src/survival/revision-rate.ts";
import { yearDifference } from "../../src/survival/year-difference.ts";

/** Five knees, small enough to check every number of a record by eye. */
const FIVE = { exit: [1, 2, 2, 3, 5], event: [1, 2, 0, 1, 0], causes: ["revision", "death"] };
const near = (value: number) => expect.closeTo(value, 12);
const quantile = 1.959963984540054;

describe("the whole record (closed form)", () => {
  it("of a Gray test: cases and events of the cause by group, over strata", () => {
    const group = { codes: [0, 0, 1, 1, 1], labels: ["a", "b"] };
    const answer = grayTest(countsByTime({ ...FIVE, group }), { cause: "revision" });
    const stratum = { codes: [0, 1, 1, 0, 1], labels: ["x", "y"] };
    const within = grayTest(
      countsByTime({ ...FIVE, exit: [1, 2, 2, 3, 1], event: [1, 1, 0, 1, 1], group, stratum }),
      {
        cause: "revision",
      },
    );
    // Tick 1: one event where two fifths stand in a. Tick 3: nobody of a is left, so b has what it expects.
    expect(answer).toMatchObject({
      computed: true,
      groups: [
        { group: "a", cases: 2, observed: 1, excess: near(0.6) },
        { group: "b", cases: 3, observed: 1, excess: near(-0.6) },
      ],
    });
    expect(within).toMatchObject({
      groups: [
        { group: "a", cases: 2, observed: 2 },
        { group: "b", cases: 3, observed: 2 },
      ],
    });
  });

  it("of restricted means: limits within the horizon, and what the comparison is referred to", () => {
    const two = {
      exit: [2, 3, 7, 8, 1, 9, 9, 9],
      event: [1, 1, 1, 1, 1, 0, 0, 0],
      group: { codes: [0, 0, 0, 0, 1, 1, 1, 1], labels: ["a", "b"] },
      timeUnit: TIME_UNITS.year,
    };
    // a: mean 5, variance Σ (x − 5)² / n² = 26/16. b: 1 + 7 × ¾ = 6.25, variance (5.25)² / (4 × 3).
    const [spreadOfA, spreadOfB] = [Math.sqrt(26 / 16), 5.25 / Math.sqrt(12)];
    const { groups, comparisons } = restrictedMean(countsByTime(two), { toYear: 8 });
    expect(groups).toEqual([
      {
        computed: true,
        group: "a",
        years: near(5),
        yearsLost: near(3),
        standardError: near(spreadOfA),
        lower: near(5 - quantile * spreadOfA),
        upper: near(5 + quantile * spreadOfA),
        clusters: null,
        degreesOfFreedom: null,
      },
      {
        computed: true,
        group: "b",
        years: near(6.25),
        yearsLost: near(1.75),
        standardError: near(spreadOfB),
        lower: near(6.25 - quantile * spreadOfB),
        upper: 8,
        clusters: null,
        degreesOfFreedom: null,
      },
    ]);
    const error = Math.hypot(spreadOfA, spreadOfB);
    expect(comparisons).toEqual([
      {
        computed: true,
        groups: ["a", "b"],
        difference: expect.objectContaining({
          estimate: near(-1.25),
          standardError: near(error),
          lower: near(-1.25 - quantile * error),
          upper: near(-1.25 + quantile * error),
          degreesOfFreedom: null,
        }),
        ratio: expect.objectContaining({ computed: true, estimate: near(0.8) }),
        ratioOfYearsLost: expect.objectContaining({ computed: true, estimate: near(3 / 1.75) }),
        clusters: null,
      },
    ]);
    const clustered = clusteredRestrictedMean(two, { toYear: 8 });
    expect(clustered.groups.map((mean) => mean.computed && mean.years)).toEqual([near(5), near(6.25)]);
    expect(clustered.groups.map((mean) => mean.computed && mean.standardError)).toEqual([
      near(spreadOfA),
      near(spreadOfB),
    ]);
  });

  it("of rates by period: an event on the last tick of a period belongs to it", () => {
    const columns = {
      exit: [1, 2, 2, 3, 5],
      event: [1, 1, 0, 1, 0],
      timeUnit: TIME_UNITS.year,
      group: { codes: [0, 0, 0, 0, 0], labels: ["a", "empty"] },
    };
    const { periods } = revisionRate(countsByTime(columns), { periods: [2] });
    expect(periods).toEqual([
      {
        group: "a",
        fromYear: 0,
        toYear: 2,
        events: 2,
        unitYears: 9,
        rate: expect.objectContaining({ computed: true, per100: near(200 / 9) }),
      },
      {
        group: "a",
        fromYear: 2,
        toYear: null,
        events: 1,
        unitYears: 4,
        rate: expect.objectContaining({ computed: true, per100: 25 }),
      },
      {
        group: "empty",
        fromYear: 0,
        toYear: 2,
        events: 0,
        unitYears: 0,
        rate: expect.objectContaining({ computed: false, code: "nobody-under-observation" }),
      },
      expect.objectContaining({ group: "empty", fromYear: 2, toYear: null, events: 0, unitYears: 0 }),
    ]);
    const clustered = clusteredRate(columns, { periods: [2] });
    expect(clustered.periods.map(({ rate: _, ...period }) => period)).toEqual(
      periods.map(({ rate: _, ...period }) => period),
    );
    expect(clustered.comparisons).toMatchObject([
      { groups: ["a", "empty"], fromYear: 0, toYear: 2, comparison: { code: "nobody-under-observation" } },
      { groups: ["a", "empty"], fromYear: 2, toYear: null, comparison: { code: "nobody-under-observation" } },
    ]);
  });

  it("of two rates compared, with one group or both without an event", () => {
    const [some, none] = [
      { events: 4, unitYears: 50 },
      { events: 0, unitYears: 20 },
    ];
    const reasons = (first: typeof some, second: typeof some) => {
      const { ratio, upper, difference, per100, p } = exactRateComparison(first, second);
      const code = (answer: typeof ratio | typeof difference) => (answer.computed ? "computed" : answer.code);
      return [per100, code(ratio), code(upper), code(difference), p];
    };
    expect(reasons(some, none)).toEqual([
      [8, 0],
      "no-events-to-compare-with",
      "no-events-to-compare-with",
      "computed",
      // All four in the group with five sevenths of the time: twice (5/7)⁴, above one half, stays.
      near(Math.min(1, 2 * (5 / 7) * (5 / 7) * (5 / 7) * (5 / 7))),
    ]);
    expect(reasons(none, some).slice(0, 4)).toEqual([[0, 8], "computed", "computed", "computed"]);
    expect(reasons(none, none)).toEqual([
      [0, 0],
      "no-events-to-compare-with",
      "no-events-to-compare-with",
      "no-events",
      1,
    ]);
  });

  it("of a difference at a year: shares without the event, or with it, and one spread for both", () => {
    // Of 50 in each group 10 and 5 have the event in year 1; all others are followed to year 3.
    const rows = Array.from({ length: 100 }, (_, row) => ({
      second: row >= 50,
      event: row % 50 < (row < 50 ? 10 : 5),
    }));
    const columns = {
      exit: rows.map(({ event }) => (event ? 1 : 3)),
      event: rows.map(({ event }) => (event ? 1 : 0)),
      group: { codes: rows.map(({ second }) => (second ? 1 : 0)), labels: ["a", "b"] },
      timeUnit: TIME_UNITS.year,
    };
    const standardError = Math.sqrt((0.2 * 0.8 + 0.1 * 0.9) / 50);
    const both = {
      computed: true,
      kind: "yearDifference",
      cause: "event",
      year: 2,
      groups: ["a", "b"],
      standardError: near(standardError),
      p: near(2 * normalUpper(0.1 / standardError)),
      settings: { level: 0.9, clusteredBy: null, clusters: null, degreesOfFreedom: null },
    };
    const half = 1.6448536269514722 * standardError;
    const asked = { cause: "event", years: [2], level: 0.9 } as const;
    expect(yearDifference(columns, { ...asked, measure: "incidence" })).toEqual([
      {
        ...both,
        measure: "incidence",
        values: [near(0.2), near(0.1)],
        difference: near(0.1),
        lower: near(0.1 - half),
        upper: near(0.1 + half),
      },
    ]);
    expect(yearDifference(columns, { ...asked, measure: "survival" })).toEqual([
      {
        ...both,
        measure: "survival",
        values: [near(0.8), near(0.9)],
        difference: near(-0.1),
        lower: near(-0.1 - half),
        upper: near(-0.1 + half),
      },
    ]);
  });
});
