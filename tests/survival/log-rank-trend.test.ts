import { describe, expect, it } from "vitest";
import { studentTwoSided } from "../../src/numeric/student-t.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import { logRankTrend, type TrendOptions } from "../../src/survival/log-rank-trend.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import {
  codeColumn,
  expectPrinted,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
  wholeTicks,
} from "../reference/record.ts";
import { naiveScore } from "./naive-score.ts";
import { rowsOf } from "./some-rows.ts";

const larynx: ObservationColumns = {
  exit: wholeTicks(numberColumn(referenceRows("larynx.csv"), "time"), 10),
  event: numberColumn(referenceRows("larynx.csv"), "status"),
  group: codeColumn(referenceRows("larynx.csv"), "stage", ["1", "2", "3", "4"]),
};

function trend(columns: ObservationColumns, options?: TrendOptions) {
  const test = logRankTrend(countsByTime(columns), options);
  if (!test.computed) throw new Error(test.because);
  return test;
}

describe("logRankTrend()", () => {
  it("agrees with the stages of larynx cancer under every weighting (reference: definition written out in R)", () => {
    const { expected } = referenceRecord("02_logrank", "logrank.larynx_trend");
    const named = {
      logrank: "equal",
      gehanBreslow: "atRisk",
      taroneWare: "rootAtRisk",
      petoPeto: "survival",
    } as const;
    const found = Object.entries(named).filter(([name]) => expected.tests[name]?.trend !== undefined);
    expect(found.length).toBe(4);
    for (const [name, weighting] of found) {
      const ours = trend(larynx, { weighting });
      expectRelative(ours.z, expected.tests[name].trend.z, 1e-10);
      expectRelative(ours.p, expected.tests[name].trend.p, 1e-9);
    }
  });

  it("prints as Klein and Moeschberger, example 7.6: z 3.72 (published, from memory)", () => {
    expectPrinted([trend(larynx).z], [3.72], 2);
  });

  it("agrees with three marrow groups scored 1, 2, 3 (reference: R survival)", () => {
    const { trend_1_2_3: theirs } = referenceRecord("02_logrank", "logrank.bmt_3groups").expected;
    const rows = referenceRows("bmt_dfs.csv");
    const ours = trend({
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "status"),
      group: codeColumn(rows, "group", ["ALL", "AML low risk", "AML high risk"]),
    });
    expectRelative(ours.z, theirs.z, 1e-10);
    expectRelative(ours.p, theirs.p, 1e-10);
  });

  it("does not care where the scale begins or which way a unit is cut (identity)", () => {
    const { z } = trend(larynx);
    expectRelative(trend(larynx, { scores: [1001, 1002, 1003, 1004] }).z, z, 1e-12);
    expectRelative(trend(larynx, { scores: [0.1, 0.2, 0.3, 0.4] }).z, z, 1e-12);
    expectRelative(trend(larynx, { scores: [4, 3, 2, 1] }).z, -z, 1e-12);
  });

  it("is the log-rank test itself for two groups: z² is the chi-square (identity)", () => {
    const columns = rowsOf(7, { rows: 80, groups: 2, strata: 3, causes: 1, entries: true });
    const test = logRankTest(countsByTime(columns));
    expectRelative(trend(columns).z * trend(columns).z, test.computed ? test.chiSquare : 0, 1e-10);
  });

  it("takes its variance over the clusters of rows", () => {
    // Twin: the score and variance of every cluster written out, along the scores 0, 1, 5.
    const rows = rowsOf(53, { rows: 150, groups: 3, strata: 2, causes: 1, entries: true, clusters: 12 });
    const scores = [0, 1, 5];
    const { score, variance } = naiveScore(rows, 3, 1);
    const along = (value: (group: number) => number) =>
      scores.reduce((sum, place, group) => sum + place * value(group), 0);
    const z = along((a) => score[a] ?? 0) / Math.sqrt(along((a) => along((b) => variance(a, b))));
    const answer = logRankTrend(rows, { scores });
    if (!answer.computed) throw new Error(answer.code);
    expectRelative(answer.z, z, 1e-10);
    expectRelative(answer.p, studentTwoSided(z, 11), 1e-9);
    expect(answer.settings).toMatchObject({ clusteredBy: "surgeon", clusters: 12, degreesOfFreedom: 11 });
  });

  it("is the clustered log-rank for two groups, and the plain one for rows without clusters", () => {
    // Identity.
    const rows = rowsOf(54, { rows: 120, groups: 2, strata: 1, causes: 1, entries: false, clusters: 40 });
    const [ours, theirs] = [logRankTrend(rows), clusteredLogRank(rows)];
    if (!ours.computed || !theirs.computed) throw new Error("both can be computed");
    expectRelative(ours.z * ours.z, theirs.chiSquare, 1e-10);
    const { cluster: _, ...alone } = rows;
    expect(logRankTrend(alone)).toEqual(logRankTrend(countsByTime(alone)));
  });

  it("says why there is no trend instead of dividing by nothing", () => {
    const none = countsByTime({ exit: [1, 2], event: [0, 0], group: { codes: [0, 1], labels: ["a", "b"] } });
    expect(logRankTrend(none)).toMatchObject({ computed: false, code: "no-events" });
    const sameScore = countsByTime({
      exit: [1, 2, 3],
      event: [1, 1, 0],
      group: { codes: [0, 1, 1], labels: ["a", "b", "nobody"] },
    });
    expect(logRankTrend(sameScore, { scores: [1, 1, 2] })).toMatchObject({
      computed: false,
      code: "no-spread-of-scores",
    });
    expect(() => logRankTrend(none, { scores: [1] })).toThrow("one finite number for each");
    expect(() => logRankTrend(none, { scores: [1, Number.NaN] })).toThrow("one finite number for each");
    expect(() => logRankTrend(none, { scores: [2, 2] })).toThrow("must differ");
  });

  it("keeps its digits where scores lie far from 0 (identity)", () => {
    const far = [1e9 + 1, 1e9 + 2, 1e9 + 3, 1e9 + 4];
    expectRelative(trend(larynx, { scores: far }).z, trend(larynx).z, 1e-12);
  });

  it("tells groups never seen together from groups that share a score", () => {
    const apart = countsByTime({
      exit: [1, 2, 1, 2],
      event: [1, 0, 1, 0],
      group: { codes: [0, 0, 1, 1], labels: ["a", "b"] },
      stratum: { codes: [0, 0, 1, 1], labels: ["x", "y"] },
    });
    expect(logRankTrend(apart)).toMatchObject({ computed: false, code: "no-spread" });
  });

  it("takes no rounding error of many rows for a trend between groups of one score", () => {
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const rows = rowsOf(seed, { rows: 300, groups: 2, strata: 3, causes: 1, entries: true });
      const group = { ...rows.group, labels: [...rows.group.labels, "nobody"] };
      const answer = logRankTrend(countsByTime({ ...rows, group }), { scores: [0.3, 0.3, 7] });
      expect(answer).toMatchObject({ computed: false, code: "no-spread-of-scores" });
    }
  });
});
