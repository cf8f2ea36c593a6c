import { describe, expect, it } from "vitest";
import { chiSquareUpper } from "../../src/numeric/chi-square.ts";
import { studentTwoSided } from "../../src/numeric/student-t.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { logRankTrend } from "../../src/survival/log-rank-trend.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { naiveScore } from "./naive-score.ts";
import { rowsOf } from "./some-rows.ts";

function test(columns: ObservationColumns, event: readonly string[] = ["cause 1"]) {
  const answer = clusteredLogRank(columns, { event });
  if (!answer.computed) throw new Error(answer.code);
  return answer;
}

describe("clusteredLogRank()", () => {
  it("is the squared score over its variance between clusters, for two groups", () => {
    // Twin: double loop over rows and ticks, with strata, late entries and weights.
    const rows = rowsOf(41, {
      rows: 160,
      groups: 2,
      strata: 3,
      causes: 2,
      entries: true,
      clusters: 35,
      lastTick: 15,
    });
    const weight = { kind: "sampling" as const, values: rows.exit.map((_, row) => 1 + (row % 3)) };
    const { score, variance } = naiveScore({ ...rows, weight }, 2, 1);
    const answer = test({ ...rows, weight });
    const expected = ((score[1] ?? 0) * (score[1] ?? 0)) / variance(1, 1);
    expect(answer.chiSquare).toBeCloseTo(expected, 9);
    expect(answer.p).toBeCloseTo(chiSquareUpper(expected, 1), 9);
    answer.groups.forEach(({ observed, expected: planned }, group) => {
      expect(observed - planned).toBeCloseTo(score[group] ?? 0, 9);
    });
    expect(answer.settings).toMatchObject({
      clusteredBy: "surgeon",
      clusters: new Set(rows.cluster.codes).size,
      stratified: true,
    });
    expect(answer.settings.degreesOfFreedomOfT).toBeNull();
  });

  it("is the quadratic form in two scores for three groups", () => {
    // Twin, with the 2 × 2 inverse written out.
    const rows = rowsOf(42, { rows: 150, groups: 3, strata: 1, causes: 1, entries: false, clusters: 40 });
    const { score, variance } = naiveScore(rows, 3, 1);
    const [a = 0, b = 0] = score.slice(1);
    const [aa, ab, bb] = [variance(1, 1), variance(1, 2), variance(2, 2)];
    const expected = (a * a * bb - 2 * a * b * ab + b * b * aa) / (aa * bb - ab * ab);
    expect(test(rows).chiSquare).toBeCloseTo(expected, 9);
    expect(test(rows).degreesOfFreedom).toBe(2);
  });

  it("weights each tick of score and variance alike", () => {
    // Twin as above, each tick by its number at risk within the stratum (Gehan–Breslow) or the root of it (Tarone–Ware).
    const rows = rowsOf(47, { rows: 140, groups: 2, strata: 2, causes: 2, entries: true, clusters: 32 });
    for (const [weighting, weightOf] of [
      ["atRisk", (atRisk: number) => atRisk],
      ["rootAtRisk", Math.sqrt],
    ] as const) {
      const { score, variance } = naiveScore(rows, 2, 1, weightOf);
      const answer = clusteredLogRank(rows, { event: ["cause 1"], weighting });
      if (!answer.computed) throw new Error(answer.code);
      expect(answer.chiSquare).toBeCloseTo(((score[1] ?? 0) * (score[1] ?? 0)) / variance(1, 1), 9);
      expect(answer.settings.weighting).toBe(weighting);
    }
    const bad = { early: -1, late: 0 };
    expect(() => clusteredLogRank(rows, { weighting: bad })).toThrow("weighting must be one of");
  });

  it("is t on clusters − 1 below 30 clusters", () => {
    const rows = rowsOf(43, { rows: 150, groups: 2, strata: 1, causes: 1, entries: false, clusters: 9 });
    const answer = test(rows);
    expect(answer.settings).toMatchObject({ clusters: 9, degreesOfFreedomOfT: 8 });
    expect(answer.p).toBeCloseTo(studentTwoSided(Math.sqrt(answer.chiSquare), 8), 12);
  });

  it("is chi-square from exactly 30 clusters up", () => {
    const rows = rowsOf(43, { rows: 300, groups: 2, strata: 1, causes: 1, entries: false, clusters: 30 });
    const answer = test(rows);
    expect(answer.settings).toMatchObject({ clusters: 30, degreesOfFreedomOfT: null });
    expect(answer.p).toBeCloseTo(chiSquareUpper(answer.chiSquare, 1), 12);
  });

  it("does not become surer when every row is there twice in its cluster", () => {
    const rows = rowsOf(44, { rows: 100, groups: 2, strata: 2, causes: 2, entries: true, clusters: 33 });
    const weight = { kind: "copies" as const, values: rows.exit.map(() => 2) };
    expect(test({ ...rows, weight }).chiSquare).toBeCloseTo(test(rows).chiSquare, 9);
  });

  it("does not depend on the order of groups, the names of clusters or a stratum without events", () => {
    const rows = rowsOf(45, { rows: 100, groups: 3, strata: 1, causes: 1, entries: false, clusters: 33 });
    const swapped = { ...rows, group: { ...rows.group, codes: rows.group.codes.map((code) => 2 - code) } };
    const renamed = {
      ...rows,
      cluster: { ...rows.cluster, codes: rows.cluster.codes.map((code) => 700 - code) },
    };
    expect(test(swapped).chiSquare).toBeCloseTo(test(rows).chiSquare, 10);
    expect(test(renamed).chiSquare).toBeCloseTo(test(rows).chiSquare, 10);
    const quiet = {
      ...rows,
      exit: [...rows.exit, 9, 9],
      event: [...rows.event, 0, 0],
      group: { ...rows.group, codes: [...rows.group.codes, 0, 1] },
      cluster: { ...rows.cluster, codes: [...rows.cluster.codes, 0, 1] },
      stratum: { codes: [...rows.exit.map(() => 0), 1, 1], labels: ["busy", "quiet"] },
    };
    expect(test(quiet).chiSquare).toBeCloseTo(test(rows).chiSquare, 10);
  });

  it("leaves a group out that was at risk at no event, and keeps it in the table", () => {
    const rows = rowsOf(46, {
      rows: 100,
      groups: 2,
      strata: 1,
      causes: 1,
      entries: false,
      clusters: 33,
      lastTick: 20,
    });
    const first = Math.min(...rows.exit.filter((_, row) => rows.event[row] === 1));
    const later = {
      ...rows,
      exit: [...rows.exit.map((exit) => exit + 5), first + 1],
      event: [...rows.event, 0],
      group: { codes: [...rows.group.codes, 2], labels: [...rows.group.labels, "brief"] },
      stratum: { ...rows.stratum, codes: [...rows.stratum.codes, 0] },
      cluster: { ...rows.cluster, codes: [...rows.cluster.codes, 0] },
    };
    const answer = test(later);
    expect(answer.degreesOfFreedom).toBe(1);
    expect(answer.groups[2]).toMatchObject({ group: "brief", cases: 1, observed: 0, expected: 0 });
    expect(answer.chiSquare).toBeCloseTo(test(rows).chiSquare, 10);
  });

  it("says why there is no answer", () => {
    const code = (columns: ObservationColumns) => {
      const answer = clusteredLogRank(columns);
      return answer.computed ? "computed" : answer.code;
    };
    const group = { codes: [0, 1, 0, 1], labels: ["A", "B"] };
    const cluster = { codes: [0, 1, 2, 3], word: "surgeon" };
    expect(code({ exit: [1, 2, 3, 4], event: [0, 0, 0, 0], group, cluster })).toBe("no-events");
    expect(
      code({ exit: [1, 2, 3, 4], event: [0, 1, 0, 1], group: { ...group, codes: [0, 1, 0, 1] }, cluster }),
    ).toBe("computed");
    expect(code({ exit: [1, 4, 1, 4], event: [0, 1, 0, 1], group, cluster })).toBe("nothing-to-compare");
    expect(
      code({ exit: [], event: [], group: { ...group, codes: [] }, cluster: { ...cluster, codes: [] } }),
    ).toBe("no-events");
    expect(
      code({ exit: [1, 2, 3, 4], event: [1, 1, 1, 1], group, cluster: { ...cluster, codes: [0, 0, 0, 0] } }),
    ).toBe("too-few-clusters");
    expect(code({ exit: [1, 2, 3, 4], event: [1, 1, 0, 1], group, cluster })).toBe("computed");
    // As many clusters as groups are enough.
    const two = { ...cluster, codes: [0, 0, 1, 1] };
    expect(code({ exit: [1, 2, 4, 3], event: [1, 1, 0, 1], group, cluster: two })).toBe("computed");
    // Each cluster holds the same rows in both groups, so none favours one.
    expect(code({ exit: [1, 1, 3, 3], event: [1, 1, 1, 1], group, cluster: two })).toBe("no-spread");
  });

  it("takes no rounding errors for a spread where every cluster holds the same rows in each group", () => {
    for (const groups of [2, 3]) {
      for (const seed of [5, 12, 30, 32]) {
        const one = rowsOf(seed, { rows: 150, groups: 1, strata: 3, causes: 1, entries: true, clusters: 12 });
        const inEach = (values: readonly number[] = []) =>
          Array.from({ length: groups }, () => values).flat();
        const columns = {
          exit: inEach(one.exit),
          entry: inEach(one.entry),
          event: inEach(one.event),
          stratum: { ...one.stratum, codes: inEach(one.stratum.codes) },
          cluster: { ...one.cluster, codes: inEach(one.cluster.codes) },
          weight: { kind: "sampling", values: inEach(one.exit.map((_, row) => 1 + (row % 7) / 10)) } as const,
          group: {
            codes: Array.from({ length: groups }, (_, code) => one.exit.map(() => code)).flat(),
            labels: ["A", "B", "C"].slice(0, groups),
          },
        };
        expect(clusteredLogRank(columns)).toMatchObject({ computed: false, code: "no-spread" });
        expect(logRankTrend(columns)).toMatchObject({ computed: false, code: "no-spread" });
      }
    }
  });

  it("refuses observations without clusters and unknown causes", () => {
    expect(() => clusteredLogRank({ exit: [1], event: [1] })).toThrow("name no cluster");
    const rows = rowsOf(47, { rows: 9, groups: 2, strata: 1, causes: 1, entries: false });
    expect(() => clusteredLogRank(rows, { event: ["loosening"] })).toThrow('no cause is named "loosening"');
  });
});
