import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { clusteredRestrictedMean } from "../../src/survival/clustered-restricted-mean.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import type { SharesOrNone } from "../../src/survival/few-clusters.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { restrictedMean } from "../../src/survival/restricted-mean.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";
import { gammopathyColumns } from "./gammopathy-columns.ts";
import { rowsOf } from "./some-rows.ts";

const year = TIME_UNITS.year;

function meansOf(
  columns: ObservationColumns,
  toYear: number,
  { level = 0.95, smallSample = "none" as SharesOrNone } = {},
) {
  const { groups, comparisons, settings } = clusteredRestrictedMean(columns, { toYear, level, smallSample });
  const means = groups.map((answer) => {
    if (!answer.computed) throw new Error(answer.code);
    return answer;
  });
  const [comparison] = comparisons;
  if (comparison?.computed !== true) throw new Error(comparison?.code ?? "no comparison");
  return { means, comparison, settings };
}

function code(columns: ObservationColumns, toYear: number, group = 0): string {
  const answer = clusteredRestrictedMean(columns, { toYear }).groups[group];
  return answer?.computed === false ? answer.code : "computed";
}

/** Area under a product-limit curve from the definition, by walking over every tick. */
function naiveArea(rows: readonly Row[], toTick: number): number {
  let [area, survival] = [0, 1];
  for (let tick = 0; tick <= toTick; tick += 1) {
    const weight = (some: readonly Row[]) => some.reduce((sum, row) => sum + row.weight, 0);
    const dead = rows.filter((row) => row.exit === tick && row.event > 0);
    if (dead.length > 0)
      survival *= 1 - weight(dead) / weight(rows.filter((row) => row.entry < tick && row.exit >= tick));
    if (tick < toTick) area += survival;
  }
  return area;
}

interface Row {
  readonly exit: number;
  readonly event: number;
  readonly entry: number;
  readonly weight: number;
}

describe("clusteredRestrictedMean() against reference numbers", () => {
  it.each([
    ["none", ""],
    ["shares", ".shares"],
  ] as const)(
    "compares women and men in 40 clusters over 5 and 10 years, widening: %s",
    (smallSample, id) => {
      // Reference: R survival 3.5-3, influence of each row integrated and summed by cluster, in months; "shares" over one
      // minus the cluster's share of the rows.
      const { expected } = referenceRecord("21_clustered_means", `clustered.restricted_mean${id}`);
      for (const months of [60, 120]) {
        const wanted = expected[`tau${months}`];
        const { means, comparison, settings } = meansOf(gammopathyColumns(), months / 12, { smallSample });
        expect(settings.clusteredBy).toBe("centre");
        expect(settings.smallSample).toBe(smallSample);
        expect(comparison.clusters).toBe(40);
        ["F", "M"].forEach((sex, at) => {
          expectRelative(means[at]?.years, wanted.mean[sex] / 12, 1e-12);
          expectRelative(means[at]?.standardError, wanted.se[sex] / 12, 1e-9);
        });
        expectRelative(comparison.difference.estimate, wanted.difference.estimate / 12, 1e-10);
        expectRelative(comparison.difference.standardError, wanted.difference.se / 12, 1e-9);
        expectRelative(comparison.difference.lower, wanted.difference.lower / 12, 1e-9);
        expectRelative(comparison.difference.p, wanted.difference.p, 1e-9);
        if (smallSample === "shares")
          expectRelative(comparison.difference.degreesOfFreedom, wanted.difference.df, 1e-9);
        for (const [ours, theirs] of [
          [comparison.ratio, wanted.ratio],
          [comparison.ratioOfYearsLost, wanted.ratioLost],
        ]) {
          if (smallSample === "shares") expectRelative(ours.degreesOfFreedom, theirs.df, 1e-9);
          else expect(ours.degreesOfFreedom).toBeNull();
          for (const name of ["estimate", "lower", "upper", "p"])
            expectRelative(ours[name], theirs[name], 1e-9);
        }
      }
    },
  );
});

describe("clusteredRestrictedMean() keeps its identities", () => {
  it("is restrictedMean() where each row is its own cluster, without weights and delayed entry", () => {
    // Identity: the infinitesimal jackknife is then the Greenwood-type variance, for difference and ratios as well.
    const rows = rowsOf(71, { rows: 300, groups: 3, strata: 2, causes: 2, entries: false });
    const { cluster: _, ...alone } = { ...rows, timeUnit: year };
    const options = { toYear: 30, event: ["cause 1"] };
    const plain = restrictedMean(countsByTime(alone), options);
    const own = { codes: [...rows.exit.keys()], word: "knee" };
    for (const columns of [alone, { ...alone, cluster: own }]) {
      const robust = clusteredRestrictedMean(columns, options);
      plain.groups.forEach((mean, at) => {
        const other = robust.groups[at];
        if (!mean.computed || !other?.computed) throw new Error("a mean was expected");
        expect(other.years).toBe(mean.years);
        expectRelative(other.standardError, mean.standardError, 1e-11);
      });
      plain.comparisons.forEach((one, at) => {
        const other = robust.comparisons[at];
        if (!one.computed || !other?.computed) throw new Error("a comparison was expected");
        if (!one.ratioOfYearsLost.computed || !other.ratioOfYearsLost.computed) throw new Error("no ratio");
        expectRelative(other.difference.p, one.difference.p, 1e-9);
        expectRelative(other.ratioOfYearsLost.upper, one.ratioOfYearsLost.upper, 1e-10);
      });
    }
  });

  it("is the sum over clusters of squared numerical derivatives, with weights, late entries, ties and strata", () => {
    // Twin: each row's weight nudged, the area recomputed from its definition; Richardson's step.
    const shape = { rows: 120, groups: 2, strata: 2, causes: 1, entries: true, clusters: 8, lastTick: 25 };
    const rows = rowsOf(72, shape);
    const values = rows.exit.map((_, row) => 0.5 + (row % 5) / 3);
    const columns = { ...rows, weight: { kind: "sampling" as const, values }, timeUnit: year };
    const toTick = 20;
    const sums = [0, 1].map((group) => {
      const own = rows.exit.flatMap((_, row) => (rows.group.codes[row] === group ? [row] : []));
      const list = own.map((row) => ({
        exit: rows.exit[row] ?? 0,
        event: rows.event[row] ?? 0,
        entry: rows.entry?.[row] ?? -1,
        weight: values[row] ?? 0,
      }));
      const byCluster = new Array<number>(8).fill(0);
      own.forEach((row, place) => {
        const at = (by: number) =>
          naiveArea(
            list.map((one, other) => (other === place ? { ...one, weight: one.weight + by } : one)),
            toTick,
          );
        const slope = (by: number) => (at(by) - at(-by)) / (2 * by);
        byCluster[rows.cluster.codes[row] ?? 0]! +=
          (values[row] ?? 0) * ((4 * slope(1e-3) - slope(2e-3)) / 3);
      });
      return byCluster;
    });
    const root = (of: (cluster: number) => number) =>
      Math.sqrt([...Array(8).keys()].reduce((sum, cluster) => sum + of(cluster) * of(cluster), 0));
    const { means, comparison } = meansOf(columns, toTick);
    means.forEach((mean, at) => {
      expectRelative(
        mean.standardError,
        root((cluster) => sums[at]?.[cluster] ?? 0),
        1e-7,
      );
    });
    const apart = root((cluster) => (sums[0]?.[cluster] ?? 0) - (sums[1]?.[cluster] ?? 0));
    expectRelative(comparison.difference.standardError, apart, 1e-7);
    const [a, b] = means.map(({ years }) => years);
    const ofLog = root(
      (cluster) => (sums[0]?.[cluster] ?? 0) / (a ?? 1) - (sums[1]?.[cluster] ?? 0) / (b ?? 1),
    );
    if (!comparison.ratio.computed) throw new Error("a ratio was expected");
    // Reference: t(0.975, 7 df) = 2.364624, standard table.
    const half = Math.log(comparison.ratio.upper / comparison.ratio.estimate);
    expect(half / ofLog).toBeCloseTo(2.364624, 5);
  });

  it("does not change when all sampling weights are multiplied, nor shrink when rows are copied in their cluster", () => {
    const rows = {
      ...rowsOf(73, { rows: 200, groups: 2, strata: 1, causes: 1, entries: true }),
      timeUnit: year,
    };
    const weighted = (factor: number) => ({
      ...rows,
      weight: { kind: "sampling" as const, values: rows.exit.map((_, row) => factor * (1 + (row % 3))) },
    });
    const [one, thousand] = [meansOf(weighted(1), 25), meansOf(weighted(1000), 25)];
    expectRelative(thousand.comparison.difference.lower, one.comparison.difference.lower, 1e-10);
    const copies = { ...rows, weight: { kind: "copies" as const, values: rows.exit.map(() => 2) } };
    expectRelative(
      meansOf(copies, 25).comparison.difference.standardError,
      meansOf(rows, 25).comparison.difference.standardError,
      1e-10,
    );
  });
});

describe("clusteredRestrictedMean() at the edges", () => {
  const cluster = { codes: [0, 1, 2, 3], word: "surgeon" };

  it("says why there is no mean", () => {
    const columns = { exit: [1, 2, 3, 9], event: [1, 1, 0, 0], cluster, timeUnit: year };
    expect(code(columns, 5)).toBe("computed");
    expect(code(columns, 10)).toBe("beyond-follow-up");
    expect(code({ ...columns, event: [0, 0, 0, 0] }, 5)).toBe("no-events-in-a-group");
    expect(code({ ...columns, exit: [4, 4, 4, 4], event: [1, 1, 1, 1] }, 5)).toBe("no-spread");
    expect(code({ ...columns, cluster: { ...cluster, codes: [7, 7, 7, 7] } }, 5)).toBe("no-spread");
    expect(code({ exit: [], event: [], cluster: { ...cluster, codes: [] }, timeUnit: year }, 5)).toBe(
      "no-cases",
    );
    const group = { codes: [0, 0, 0, 0], labels: ["full", "empty"] };
    expect(code({ ...columns, group }, 5, 1)).toBe("no-cases");
    const entry = [-1, -1, -1, 5];
    expect(code({ ...columns, event: [1, 1, 1, 1], entry }, 8)).toBe("risk-set-emptied");
  });

  describe("compares nothing where every cluster moves both groups alike, whatever rounding leaves", () => {
    // Everybody has the event within the horizon, so a mean is the plain mean of the times.
    const comparisonOf = (turned: (tick: number) => number, size: number) => {
      const ticks = Array.from({ length: size }, (_, row) => 31 + 97 * row + ((row * row) % 13));
      const exit = [...ticks, ...ticks.map(turned)];
      const [comparison] = clusteredRestrictedMean(
        {
          exit,
          event: exit.map(() => 1),
          group: { codes: exit.map((_, row) => (row < size ? 0 : 1)), labels: ["a", "b"] },
          cluster: { codes: exit.map((_, row) => (row % size) % 3), word: "surgeon" },
        },
        { toYear: 8 },
      ).comparisons;
      return comparison;
    };

    for (const size of [4, 5, 7, 12]) {
      it(`means that lie a constant apart, ${size} rows a group: no comparison`, () => {
        expect(comparisonOf((tick) => tick, size)).toMatchObject({ computed: false, code: "no-spread" });
        expect(comparisonOf((tick) => tick + 100, size)).toMatchObject({ code: "no-spread" });
      });

      it(`means of which one is twice the other, ${size} rows a group: a difference, but no ratio`, () => {
        expect(comparisonOf((tick) => 2 * tick, size)).toMatchObject({
          computed: true,
          ratio: { computed: false, code: "no-spread" },
          ratioOfYearsLost: { computed: true },
        });
      });
    }
  });

  it("refuses a horizon or level that is none", () => {
    const columns = { exit: [3], event: [1], cluster: { codes: [0], word: "surgeon" } };
    for (const toYear of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => clusteredRestrictedMean(columns, { toYear })).toThrow("toYear");
    }
    expect(() => clusteredRestrictedMean(columns, { toYear: 0.001 })).toThrow("within the first day");
    expect(() => clusteredRestrictedMean(columns, { toYear: 1, level: 95 })).toThrow("level");
    const smallSample = "clusters" as SharesOrNone;
    expect(() => clusteredRestrictedMean(columns, { toYear: 1, smallSample })).toThrow("one of none, shares");
    expect(() => clusteredRestrictedMean(columns, { toYear: 1, event: [] })).toThrow("names no cause");
  });
});
