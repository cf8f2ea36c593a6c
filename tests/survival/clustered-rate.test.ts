import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { clusteredRate } from "../../src/survival/clustered-rate.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import type { SharesOrNone } from "../../src/survival/few-clusters.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { revisionRate } from "../../src/survival/revision-rate.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";
import { gammopathyColumns } from "./gammopathy-columns.ts";
import { rowsOf } from "./some-rows.ts";

const year = TIME_UNITS.year;
type Options = Parameters<typeof clusteredRate>[1];

function ratesOf(columns: ObservationColumns, options: Options = {}) {
  return clusteredRate(columns, options).periods.map(({ rate, ...period }) => {
    if (!rate.computed) throw new Error(rate.code);
    return { ...period, rate };
  });
}

function comparisonOf(columns: ObservationColumns, options: Options = {}, at = 0) {
  const comparison = clusteredRate(columns, options).comparisons[at]?.comparison;
  if (comparison?.computed !== true) throw new Error(comparison?.code ?? "no comparison");
  if (!comparison.ratio.computed) throw new Error(comparison.ratio.code);
  return { ...comparison, ratio: comparison.ratio };
}

function code(columns: ObservationColumns, options: Options = {}, at = 0): string {
  const rate = clusteredRate(columns, options).periods[at]?.rate;
  return rate?.computed === false ? rate.code : "computed";
}

describe("clusteredRate() against reference numbers", () => {
  it.each([
    ["none", ""],
    ["shares", ".shares"],
  ] as const)(
    "gives rates of women and men in 40 clusters, ratio and difference, widening: %s",
    (smallSample, id) => {
      // Reference: R 4.2.2, Poisson regression with log time as offset and the sandwich of scores summed by cluster;
      // "shares" divides each cluster's scores by one minus its leverage, which is its share of the group's time.
      const { expected } = referenceRecord("21_clustered_means", `clustered.rate${id}`);
      for (const [event, wanted] of [
        [["malignancy"], expected.malignancy],
        [["death"], expected.death],
        [["malignancy", "death"], expected.either],
      ]) {
        const columns = gammopathyColumns();
        ratesOf(columns, { event, smallSample }).forEach(({ rate }, at) => {
          expectRelative(rate.per100, wanted.per100[at], 1e-12);
          expectRelative(rate.standardErrorOfLog, wanted.seLog[at], 1e-9);
          expectRelative(rate.lower, wanted.lower[at], 1e-9);
          expectRelative(rate.upper, wanted.upper[at], 1e-9);
        });
        const { ratio, difference, clusters } = comparisonOf(columns, {
          event,
          smallSample,
        });
        expect(clusters).toBe(40);
        for (const [ours, theirs] of [
          [ratio, wanted.ratio],
          [difference, wanted.difference],
        ]) {
          if (smallSample === "shares") expectRelative(ours.degreesOfFreedom, theirs.df, 1e-9);
          else expect(ours.degreesOfFreedom).toBeNull();
        }
        expectRelative(ratio.estimate, wanted.ratio.estimate, 1e-11);
        expectRelative(ratio.lower, wanted.ratio.lower, 1e-9);
        expectRelative(ratio.upper, wanted.ratio.upper, 1e-9);
        expectRelative(ratio.p, wanted.ratio.p, 1e-9);
        expectRelative(difference.estimate, wanted.difference.estimate, 1e-9);
        expectRelative(difference.standardError, wanted.difference.se, 1e-9);
        expectRelative(difference.upper, wanted.difference.upper, 1e-9);
        expectRelative(difference.p, wanted.difference.p, 1e-9);
      }
    },
  );
});

describe("clusteredRate() keeps its identities", () => {
  const shape = { rows: 300, groups: 3, strata: 2, causes: 2, entries: true, clusters: 40 };

  it("has the events, time and rates of revisionRate() by period", () => {
    const columns = { ...rowsOf(81, shape), timeUnit: year };
    const options = { periods: [12, 20], event: ["cause 2"] };
    const plain = revisionRate(countsByTime(columns), options).periods;
    ratesOf(columns, options).forEach(({ rate, ...period }, at) => {
      const { rate: other, ...rest } = plain[at] ?? {};
      expect(period).toEqual(rest);
      if (other?.computed !== true) throw new Error("a rate was expected");
      expectRelative(rate.per100, other.per100, 1e-14);
    });
  });

  it("is the sum over clusters of squared numerical derivatives (twin), difference and ratio included", () => {
    const rows = rowsOf(82, { ...shape, clusters: 9 });
    const values = rows.exit.map((_, row) => 0.5 + (row % 4) / 3);
    const columns = { ...rows, weight: { kind: "sampling" as const, values }, timeUnit: year };
    const [from, to] = [6, 20];
    const parts = rows.exit.map((exit, row) => ({
      group: rows.group.codes[row] ?? 0,
      cluster: rows.cluster.codes[row] ?? 0,
      event: exit > from && exit <= to && (rows.event[row] ?? 0) > 0 ? 1 : 0,
      time: Math.max(0, Math.min(exit, to) - Math.max(from, rows.entry?.[row] ?? 0)),
      weight: values[row] ?? 0,
    }));
    const rateIn = (group: number, nudged: number, by: number) => {
      let [events, time] = [0, 0];
      for (const part of parts) {
        if (part.group !== group) continue;
        // All rows of one cluster nudged together: its influence in one go.
        const weight = part.weight * (part.cluster === nudged ? 1 + by : 1);
        events += weight * part.event;
        time += weight * part.time;
      }
      return (100 * events) / time;
    };
    const rootOf = (value: (cluster: number, by: number) => number) => {
      let sum = 0;
      for (let cluster = 0; cluster < 9; cluster += 1) {
        const slope = (by: number) => (value(cluster, by) - value(cluster, -by)) / (2 * by);
        const derivative = (4 * slope(1e-3) - slope(2e-3)) / 3;
        sum += derivative * derivative;
      }
      return Math.sqrt(sum);
    };
    const rates = ratesOf(columns, { periods: [from, to] }).filter(({ fromYear }) => fromYear === from);
    rates.forEach(({ rate }, group) => {
      const ofLog = rootOf((cluster, by) => Math.log(rateIn(group, cluster, by)));
      expectRelative(rate.standardErrorOfLog, ofLog, 1e-8);
    });
    // Second of three periods, first against third group.
    const { difference, ratio } = comparisonOf(columns, { periods: [from, to] }, 4);
    expect([difference.degreesOfFreedom, ratio.degreesOfFreedom]).toEqual([8, 8]);
    expectRelative(
      difference.standardError,
      rootOf((cluster, by) => rateIn(0, cluster, by) - rateIn(2, cluster, by)),
      1e-8,
    );
    const ofRatio = rootOf((cluster, by) => Math.log(rateIn(0, cluster, by) / rateIn(2, cluster, by)));
    // Reference: t(0.975, 8 df) = 2.306004, standard table.
    expect(Math.log(ratio.upper / ratio.estimate) / ofRatio).toBeCloseTo(2.306004, 5);
  });

  it("does not change when sampling weights are multiplied, rows are shuffled, or a case is cut in pieces", () => {
    const rows = rowsOf(83, { ...shape, entries: false });
    const { cluster: _, ...plain } = { ...rows, timeUnit: year };
    const weighted = (factor: number) => ({
      ...plain,
      weight: { kind: "sampling" as const, values: rows.exit.map((_, row) => factor * (1 + (row % 3))) },
    });
    const [small, large] = [ratesOf(weighted(1)), ratesOf(weighted(1000))];
    small.forEach(({ rate }, at) => {
      expectRelative(large[at]?.rate.upper, rate.upper, 1e-12);
    });
    const turn = <Value>(values: readonly Value[]) => [...values].reverse();
    const turned = {
      ...plain,
      exit: turn(plain.exit),
      event: turn(plain.event),
      group: { ...plain.group, codes: turn(plain.group.codes) },
      stratum: { ...plain.stratum, codes: turn(plain.stratum.codes) },
    };
    const cut = plain.exit.flatMap((exit, row) =>
      exit > 7
        ? [
            { row, entry: -1, exit: 7, event: 0 },
            { row, entry: 7, exit, event: plain.event[row] ?? 0 },
          ]
        : [{ row, entry: -1, exit, event: plain.event[row] ?? 0 }],
    );
    const pieces = {
      exit: cut.map((piece) => piece.exit),
      entry: cut.map((piece) => piece.entry),
      event: cut.map((piece) => piece.event),
      caseId: cut.map((piece) => piece.row),
      group: { ...plain.group, codes: cut.map(({ row }) => plain.group.codes[row] ?? 0) },
      causes: plain.causes,
      timeUnit: year,
    };
    const whole = ratesOf(plain);
    for (const same of [ratesOf(turned), ratesOf(pieces)]) {
      whole.forEach(({ rate }, at) => {
        expectRelative(same[at]?.rate.standardErrorOfLog, rate.standardErrorOfLog, 1e-12);
      });
    }
  });

  it("has 1 / √events for the log rate where times are alike and every event is its own cluster (closed form)", () => {
    // Each of n rows has time 1 and d of them the event: Σ (y − d/n)² / d² = (1 − d/n) / d.
    const exit = new Array(50).fill(1);
    const event = exit.map((_, row) => (row < 10 ? 1 : 0));
    const [period] = ratesOf({ exit, event, timeUnit: year });
    expectRelative(period?.rate.standardErrorOfLog, Math.sqrt((1 - 10 / 50) / 10), 1e-13);
  });
});

describe("clusteredRate() at the edges", () => {
  const cluster = { codes: [0, 1, 2, 3], word: "surgeon" };
  const columns = { exit: [1, 2, 3, 4], event: [1, 0, 1, 0], cluster, timeUnit: year };

  it("says why there is no rate", () => {
    expect(code(columns)).toBe("computed");
    expect(code({ ...columns, event: [0, 0, 0, 0] })).toBe("no-events-in-a-group");
    expect(code(columns, { periods: [9] }, 1)).toBe("nobody-under-observation");
    expect(code({ ...columns, exit: [0, 0, 0, 0] })).toBe("nobody-under-observation");
    expect(code({ ...columns, cluster: { ...cluster, codes: [5, 5, 5, 5] } })).toBe("too-few-clusters");
    // Events in proportion to time in every cluster.
    expect(code({ ...columns, exit: [2, 2, 2, 2], event: [1, 1, 1, 1] })).toBe("no-spread");
    expect(code({ exit: [], event: [] })).toBe("nobody-under-observation");
    const group = { codes: [0, 0, 1, 1], labels: ["a", "b"] };
    const alone = { ...columns, event: [1, 1, 1, 1], group, cluster: { ...cluster, codes: [0, 0, 1, 2] } };
    expect(clusteredRate(alone).comparisons[0]?.comparison).toMatchObject({ code: "too-few-clusters" });
    const two = { ...columns, cluster: { ...cluster, codes: [0, 0, 1, 1] } };
    expect(code(two, { level: 1 - 1e-9 }, 0)).toBe("limits-beyond-numbers");
  });

  it("leaves out of a period's clusters those that were not under observation in it", () => {
    const [early, late] = ratesOf(columns, { periods: [2] });
    expect([early?.rate.clusters, late?.rate.clusters]).toEqual([4, 2]);
    expect(late?.rate.degreesOfFreedom).toBe(1);
    // Rows of weight 0 are left out, and with them a cluster that has no others.
    const weight = { kind: "copies", values: columns.exit.map((_, row) => (row === 0 ? 0 : 1)) } as const;
    expect(ratesOf({ ...columns, weight })[0]?.rate.clusters).toBe(3);
  });

  it("widens nothing where rows are not clustered", () => {
    const { cluster: _, ...alone } = columns;
    expect(clusteredRate(alone, { smallSample: "shares" })).toEqual(clusteredRate(alone));
  });

  it("carries a refusal into the comparison", () => {
    const group = { codes: [0, 1, 0, 1], labels: ["a", "b"] };
    expect(clusteredRate({ ...columns, group }).comparisons[0]?.comparison).toMatchObject({
      computed: false,
      code: "no-events-in-a-group",
    });
  });

  it("refuses periods, levels and causes that are none", () => {
    expect(() => clusteredRate(columns, { periods: [5, 3] })).toThrow("clusteredRate: periods");
    expect(() => clusteredRate(columns, { periods: [Number.POSITIVE_INFINITY] })).toThrow("periods");
    expect(() => clusteredRate(columns, { level: 0 })).toThrow("level");
    // One factor over all clusters belongs to one estimate; a caller without types may still ask for it.
    const smallSample = "clusters" as SharesOrNone;
    expect(() => clusteredRate(columns, { smallSample })).toThrow("one of none, shares");
    expect(() => clusteredRate(columns, { event: ["loosening"] })).toThrow("no cause is named");
  });
});
