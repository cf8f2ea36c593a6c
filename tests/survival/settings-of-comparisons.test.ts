import { describe } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { clusteredRate } from "../../src/survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../src/survival/clustered-restricted-mean.ts";
import { completeness } from "../../src/survival/completeness.ts";
import { exactRateComparison } from "../../src/survival/exact-rate-comparison.ts";
import { expectedEvents } from "../../src/survival/expected-events.ts";
import { grayTest } from "../../src/survival/gray-test.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import { logRankTrend } from "../../src/survival/log-rank-trend.ts";
import { lossBounds } from "../../src/survival/loss-bounds.ts";
import { observedAgainstExpected } from "../../src/survival/observed-against-expected.ts";
import { pairwiseLogRank } from "../../src/survival/pairwise-log-rank.ts";
import { restrictedMean } from "../../src/survival/restricted-mean.ts";
import { revisionRate } from "../../src/survival/revision-rate.ts";
import { yearDifference } from "../../src/survival/year-difference.ts";
import {
  type Asked,
  BOTH,
  counts,
  OTHER_CURVE,
  plain,
  REVISION,
  rows,
  saysItsSettings,
  unstratified,
} from "./settings-rows.ts";

const surgeonsOf = (group: number) =>
  new Set(rows.cluster.codes.filter((_, row) => rows.group.codes[row] === group)).size;
const people = {
  ...rows,
  timeUnit: TIME_UNITS.day,
  startDay: rows.exit.map(() => 18_000),
  ageAtStart: { unit: "years", values: rows.exit.map(() => 70) } as const,
  sex: { codes: rows.exit.map(() => 0), labels: ["F"] },
};
const band = { sex: "F", fromAge: 0, fromYear: 2019, toYear: 2019, per100: 2 };

const UNCLUSTERED = { clusteredBy: null, clusters: null, degreesOfFreedom: null };

/** What is asked, the kind of what comes back, and every setting that was in force. */
const RESULTS: readonly Asked[] = [
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
    { level: 0.9, event: REVISION, toYear: 2.04, toTick: 24, clusteredBy: "surgeon", smallSample: "none" },
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
    { level: 0.95, event: BOTH, clusteredBy: "surgeon", smallSample: "none" },
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
    {
      event: BOTH,
      weighting: "equal",
      stratified: true,
      clusteredBy: "surgeon",
      clusters: 40,
      degreesOfFreedomOfT: null,
    },
  ],
  [
    "clusteredLogRank() of few clusters",
    () =>
      clusteredLogRank({ ...plain, cluster: { codes: rows.cluster.codes.map((c) => c % 7), word: "unit" } }),
    "logRankTest",
    {
      event: BOTH,
      weighting: "equal",
      stratified: false,
      clusteredBy: "unit",
      clusters: 7,
      degreesOfFreedomOfT: 6,
    },
  ],
  [
    "logRankTrend() within strata",
    () => logRankTrend(counts),
    "logRankTrend",
    { event: BOTH, weighting: "equal", stratified: true, scores: [1, 2], ...UNCLUSTERED },
  ],
  [
    "logRankTrend() told otherwise",
    () => logRankTrend(unstratified, { event: REVISION, weighting: "atRisk", scores: [4, 2] }),
    "logRankTrend",
    { event: REVISION, weighting: "atRisk", stratified: false, scores: [4, 2], ...UNCLUSTERED },
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
  [
    "yearDifference() of clustered rows",
    () => yearDifference(rows, { measure: "survival", cause: BOTH, years: [0.5], level: 0.9 })[0],
    "yearDifference",
    {
      level: 0.9,
      clusteredBy: "surgeon",
      clusters: 40,
      clustersByGroup: [surgeonsOf(0), surgeonsOf(1)],
      degreesOfFreedom: null,
      smallSample: "none",
    },
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

describe("every comparison and rate", () => {
  saysItsSettings(RESULTS);
});
