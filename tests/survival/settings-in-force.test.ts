import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { clusteredIncidence } from "../../src/survival/clustered-incidence.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { clusteredRate } from "../../src/survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../src/survival/clustered-restricted-mean.ts";
import { clusteredSurvival } from "../../src/survival/clustered-survival.ts";
import { completeness } from "../../src/survival/completeness.ts";
import { conditionalSurvival } from "../../src/survival/conditional-survival.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeHazard } from "../../src/survival/cumulative-hazard.ts";
import { cumulativeIncidence } from "../../src/survival/cumulative-incidence.ts";
import { exactRateComparison } from "../../src/survival/exact-rate-comparison.ts";
import { expectedEvents } from "../../src/survival/expected-events.ts";
import { grayTest } from "../../src/survival/gray-test.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import { logRankTrend } from "../../src/survival/log-rank-trend.ts";
import { lossBounds } from "../../src/survival/loss-bounds.ts";
import { observedAgainstExpected } from "../../src/survival/observed-against-expected.ts";
import { pairwiseLogRank } from "../../src/survival/pairwise-log-rank.ts";
import { restrictedMean } from "../../src/survival/restricted-mean.ts";
import { reverseFollowUp } from "../../src/survival/reverse-follow-up.ts";
import { revisionRate } from "../../src/survival/revision-rate.ts";
import { smoothedHazard } from "../../src/survival/smoothed-hazard.ts";
import { timeToFraction } from "../../src/survival/time-to-fraction.ts";
import { yearDifference } from "../../src/survival/year-difference.ts";
import { rowsOf } from "./some-rows.ts";

const BOTH = ["cause 1", "cause 2"];
const REVISION = ["cause 1"];
const month = TIME_UNITS.month;

const drawn = rowsOf(70, { rows: 300, groups: 2, strata: 2, causes: 2, entries: false, clusters: 40 });
const rows = { ...drawn, timeUnit: month };
const { stratum: _stratum, cluster: _cluster, ...plain } = rows;
const counts = countsByTime(rows);
const unstratified = countsByTime(plain);
const curve = kaplanMeier(counts, { level: 0.9, event: REVISION });
const people = {
  ...drawn,
  startDay: drawn.exit.map(() => 18_000),
  ageAtStart: { unit: "years", values: drawn.exit.map(() => 70) } as const,
  sex: { codes: drawn.exit.map(() => 0), labels: ["F"] },
};
const band = { sex: "F", fromAge: 0, fromYear: 2019, toYear: 2019, per100: 2 };
const CURVE = { level: 0.95, scale: "log-minus-log" };
const OTHER_CURVE = { level: 0.9, scale: "log" } as const;

type Result = { readonly kind?: string; readonly settings?: unknown };

/** What is asked, the kind of what comes back, and every setting that was in force. */
const RESULTS: readonly (readonly [string, () => unknown, string, unknown])[] = [
  [
    "kaplanMeier() left alone",
    () => kaplanMeier(counts),
    "survivalCurve",
    { ...CURVE, event: BOTH, clusteredBy: null, from: null },
  ],
  [
    "kaplanMeier() told otherwise",
    () => kaplanMeier(counts, { ...OTHER_CURVE, event: REVISION, from: 3 }),
    "survivalCurve",
    { ...OTHER_CURVE, event: REVISION, clusteredBy: null, from: 3 },
  ],
  [
    "conditionalSurvival()",
    () => conditionalSurvival(counts, { givenYear: 1 }),
    "survivalCurve",
    { ...CURVE, event: BOTH, clusteredBy: null, from: 12 },
  ],
  [
    "reverseFollowUp()",
    () => reverseFollowUp(counts, OTHER_CURVE),
    "survivalCurve",
    { ...OTHER_CURVE, event: ["end of observation"], clusteredBy: null, from: null },
  ],
  [
    "timeToFraction()",
    () => timeToFraction(curve, 0.25),
    "timeToFraction",
    { ...CURVE, level: 0.9, event: REVISION, clusteredBy: null, from: null, fraction: 0.25 },
  ],
  [
    "clusteredSurvival()",
    () => clusteredSurvival(rows),
    "survivalCurve",
    { ...CURVE, event: BOTH, clusteredBy: "surgeon", from: null },
  ],
  [
    "clusteredSurvival() without clusters, told otherwise",
    () => clusteredSurvival(plain, { ...OTHER_CURVE, event: REVISION }),
    "survivalCurve",
    { ...OTHER_CURVE, event: REVISION, clusteredBy: null, from: null },
  ],
  [
    "cumulativeIncidence() left alone",
    () => cumulativeIncidence(counts),
    "cumulativeIncidence",
    { ...CURVE, clusteredBy: null },
  ],
  [
    "cumulativeIncidence() told otherwise",
    () => cumulativeIncidence(counts, OTHER_CURVE),
    "cumulativeIncidence",
    { ...OTHER_CURVE, clusteredBy: null },
  ],
  [
    "clusteredIncidence()",
    () => clusteredIncidence(rows),
    "cumulativeIncidence",
    { ...CURVE, clusteredBy: "surgeon" },
  ],
  [
    "clusteredIncidence() without clusters, told otherwise",
    () => clusteredIncidence(plain, OTHER_CURVE),
    "cumulativeIncidence",
    { ...OTHER_CURVE, clusteredBy: null },
  ],
  ["cumulativeHazard()", () => cumulativeHazard(counts), "cumulativeHazard", { level: 0.95, event: BOTH }],
  [
    "smoothedHazard()",
    () => smoothedHazard(counts, { halfWindowYears: 0.5 }),
    "smoothedHazard",
    { level: 0.95, event: BOTH, halfWindowYears: 0.5, stepTicks: 1 },
  ],
  [
    "smoothedHazard() told otherwise",
    () => smoothedHazard(counts, { halfWindowYears: 1, stepYears: 0.25, level: 0.9, event: REVISION }),
    "smoothedHazard",
    { level: 0.9, event: REVISION, halfWindowYears: 1, stepTicks: 3 },
  ],
  [
    "restrictedMean()",
    () => restrictedMean(counts, { toYear: 2 }),
    "restrictedMean",
    { level: 0.95, event: BOTH, toYear: 2, toTick: 24, clusteredBy: null },
  ],
  [
    "clusteredRestrictedMean()",
    () => clusteredRestrictedMean(rows, { toYear: 2.04, level: 0.9, event: REVISION }),
    "restrictedMean",
    { level: 0.9, event: REVISION, toYear: 2.04, toTick: 24, clusteredBy: "surgeon" },
  ],
  [
    "revisionRate()",
    () => revisionRate(counts),
    "revisionRate",
    { level: 0.95, method: "exact", event: BOTH },
  ],
  [
    "revisionRate() told otherwise",
    () => revisionRate(counts, { level: 0.9, method: "mid-p", event: REVISION }),
    "revisionRate",
    { level: 0.9, method: "mid-p", event: REVISION },
  ],
  [
    "clusteredRate()",
    () => clusteredRate(rows),
    "clusteredRate",
    { level: 0.95, event: BOTH, clusteredBy: "surgeon" },
  ],
  [
    "clusteredRate() without clusters, told otherwise",
    () => clusteredRate(plain, { level: 0.9, event: REVISION }),
    "clusteredRate",
    { level: 0.9, event: REVISION, clusteredBy: null },
  ],
  [
    "exactRateComparison()",
    () => exactRateComparison({ events: 3, unitYears: 10 }, { events: 2, unitYears: 20 }),
    "rateComparison",
    { level: 0.95, method: "exact" },
  ],
  [
    "observedAgainstExpected()",
    () => observedAgainstExpected(4, 2.5, { method: "byar", level: 0.9 }),
    "observedAgainstExpected",
    { level: 0.9, method: "byar" },
  ],
  ["expectedEvents()", () => expectedEvents(people, [band]), "expectedEvents", { event: BOTH }],
  [
    "logRankTest() within strata",
    () => logRankTest(counts),
    "logRankTest",
    {
      event: BOTH,
      weighting: "equal",
      stratified: true,
      clusteredBy: null,
      clusters: null,
      degreesOfFreedomOfT: null,
    },
  ],
  [
    "logRankTest() told otherwise",
    () => logRankTest(unstratified, { event: REVISION, weighting: { early: 0, late: 1 } }),
    "logRankTest",
    {
      event: REVISION,
      weighting: { early: 0, late: 1 },
      stratified: false,
      clusteredBy: null,
      clusters: null,
      degreesOfFreedomOfT: null,
    },
  ],
  [
    "clusteredLogRank() of many clusters within strata",
    () => clusteredLogRank(rows),
    "logRankTest",
    { event: BOTH, stratified: true, clusteredBy: "surgeon", clusters: 40, degreesOfFreedomOfT: null },
  ],
  [
    "clusteredLogRank() of few clusters",
    () =>
      clusteredLogRank({ ...plain, cluster: { codes: rows.cluster.codes.map((c) => c % 7), word: "unit" } }),
    "logRankTest",
    { event: BOTH, stratified: false, clusteredBy: "unit", clusters: 7, degreesOfFreedomOfT: 6 },
  ],
  [
    "logRankTrend() within strata",
    () => logRankTrend(counts),
    "logRankTrend",
    { event: BOTH, weighting: "equal", stratified: true, scores: [1, 2] },
  ],
  [
    "logRankTrend() told otherwise",
    () => logRankTrend(unstratified, { event: REVISION, weighting: "atRisk", scores: [4, 2] }),
    "logRankTrend",
    { event: REVISION, weighting: "atRisk", stratified: false, scores: [4, 2] },
  ],
  ["pairwiseLogRank()", () => pairwiseLogRank(counts), "pairwiseLogRank", { adjustment: "holm" }],
  [
    "grayTest() within strata",
    () => grayTest(counts, { cause: "cause 2" }),
    "grayTest",
    { cause: "cause 2", power: 0, stratified: true },
  ],
  [
    "grayTest() told otherwise",
    () => grayTest(unstratified, { cause: "cause 1", power: 1 }),
    "grayTest",
    { cause: "cause 1", power: 1, stratified: false },
  ],
  [
    "yearDifference() of counts",
    () => yearDifference(counts, { measure: "survival", cause: BOTH, years: [0.5] })[0],
    "yearDifference",
    { level: 0.95, clusteredBy: null, clusters: null, degreesOfFreedom: null },
  ],
  ["completeness()", () => completeness(rows, rows.exit), "completeness", undefined],
  [
    "lossBounds()",
    () =>
      lossBounds(
        rows,
        { lost: rows.exit.map(() => 0), possible: rows.exit },
        { risk: "net", cause: "cause 1", ...OTHER_CURVE },
      ),
    "lossBounds",
    undefined,
  ],
];

describe("every result", () => {
  for (const [asked, ask, kind, settings] of RESULTS) {
    it(`says what it is and under which settings it was made: ${asked}`, () => {
      const result = ask() as Result;
      expect(result.kind).toBe(kind);
      expect(result.settings).toEqual(settings);
    });
  }

  it("keeps the time unit of its counts", () => {
    for (const result of [
      kaplanMeier(counts),
      timeToFraction(curve, 0.5),
      cumulativeIncidence(counts),
      clusteredSurvival(rows),
      clusteredIncidence(rows),
      cumulativeHazard(counts),
      smoothedHazard(counts, { halfWindowYears: 0.5 }),
      reverseFollowUp(counts),
      completeness(rows, rows.exit),
    ]) {
      expect(result.timeUnit, result.kind).toEqual(month);
    }
  });

  it("keeps its own copy of the events asked about", () => {
    const event = [...REVISION];
    const result = kaplanMeier(counts, { event });
    event[0] = "another";
    expect(result.settings.event).toEqual(REVISION);
  });
});
