import { describe, expect, it } from "vitest";
import { clusteredIncidence } from "../../src/survival/clustered-incidence.ts";
import { clusteredSurvival } from "../../src/survival/clustered-survival.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../src/survival/cumulative-incidence.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import {
  codeColumn,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { incidenceOf, listOf } from "./naive-incidence.ts";
import { nudgedVariance } from "./naive-influence.ts";
import { rowsOf } from "./some-rows.ts";

describe("clusteredSurvival() against reference numbers", () => {
  it("gives the infinitesimal jackknife of a weighted curve", () => {
    // Reference (R survival 3.5-3, robust = TRUE): fractional weights, each row its own cluster.
    const rows = referenceRows("aml_weighted.csv");
    const groups = ["Maintained", "Nonmaintained"];
    const { expected } = referenceRecord("01_kaplan_meier", "km.weighted.robust");
    const curve = clusteredSurvival(
      {
        exit: numberColumn(rows, "time"),
        event: numberColumn(rows, "status"),
        group: codeColumn(rows, "group", groups),
        weight: { kind: "sampling", values: numberColumn(rows, "wFrac") },
      },
      { scale: "log" },
    );
    groups.forEach((group, place) => {
      const wanted = expected.robust[group];
      const steps = curve.groups[place];
      wanted.time.forEach((tick: number, at: number) => {
        const step = steps?.time.indexOf(tick) ?? -1;
        if (wanted.survival[at] === 0) {
          expect(steps?.standardError[step]).toBeNull();
          return;
        }
        expectRelative(steps?.survival[step], wanted.survival[at], 1e-12);
        expectRelative(steps?.standardError[step], wanted.se[at], 1e-10);
        expectRelative(steps?.lower[step], wanted.lower[at], 1e-10);
        expectRelative(steps?.upper[step], wanted.upper[at], 1e-10);
      });
    });
  });
});

describe("the variance over clusters", () => {
  it("is Greenwood's for survival and the Greenwood-type one for incidence where each row is a cluster", () => {
    // Identity, proved for neither weights nor delayed entry.
    const rows = rowsOf(21, { rows: 400, groups: 2, strata: 2, causes: 2, entries: false });
    const columns = { ...rows, cluster: { codes: [...rows.exit.keys()], word: "knee" } };
    const [clustered, plain] = [clusteredIncidence(columns), cumulativeIncidence(countsByTime(columns))];
    plain.curves.forEach((curve, place) => {
      curve.standardError.forEach((error, step) => {
        expect(clustered.curves[place]?.standardError[step]).toBeCloseTo(error, 12);
      });
      expect(clustered.curves[place]?.incidence).toEqual(curve.incidence);
    });
    const [robust, greenwood] = [clusteredSurvival(columns), kaplanMeier(countsByTime(columns))];
    greenwood.groups.forEach((curve, place) => {
      curve.standardError.forEach((error, step) => {
        const other = robust.groups[place]?.standardError[step];
        if (error === null) expect(other).toBeNull();
        else expect(other).toBeCloseTo(error, 12);
      });
    });
  });

  it("is the sum of squared numerical derivatives at every step, with weights, late entries, ties and strata", () => {
    // Twin: each row's weight nudged, the estimate recomputed from its definition.
    const rows = rowsOf(22, {
      rows: 90,
      groups: 2,
      strata: 2,
      causes: 2,
      entries: true,
      clusters: 7,
      lastTick: 25,
    });
    const values = rows.exit.map((_, row) => 0.5 + (row % 5) / 3);
    const columns = { ...rows, weight: { kind: "sampling" as const, values } };
    for (const curve of clusteredIncidence(columns).curves) {
      curve.time.forEach((tick, step) => {
        const variance = nudgedVariance(columns, curve.cause, tick, [{ group: curve.group, sign: 1 }]);
        expect((curve.standardError[step] ?? 0) * (curve.standardError[step] ?? 0)).toBeCloseTo(variance, 9);
      });
    }
  });

  it("comes near the jackknife that leaves out one cluster at a time", () => {
    // Twin: 60 clusters deleted in turn; the two differ by terms that vanish with the number of clusters.
    const rows = rowsOf(23, { rows: 900, groups: 1, strata: 1, causes: 2, entries: false, clusters: 60 });
    const curve = clusteredIncidence(rows).curves[0];
    const list = listOf(rows, "group 1");
    const tick = 25;
    const whole = incidenceOf(list, 1, tick);
    const squares = Array.from({ length: 60 }, (_, cluster) => {
      const gap =
        incidenceOf(
          list.filter((row) => row.cluster !== cluster),
          1,
          tick,
        ) - whole;
      return gap * gap;
    });
    const jackknife = Math.sqrt((59 / 60) * squares.reduce((sum, square) => sum + square, 0));
    expect((curve?.standardError[curve.time.indexOf(tick)] ?? 0) / jackknife).toBeCloseTo(1, 1);
  });

  it("does not shrink when every row is there twice in its cluster", () => {
    const rows = rowsOf(24, { rows: 150, groups: 1, strata: 1, causes: 2, entries: true, clusters: 40 });
    const weight = { kind: "copies" as const, values: rows.exit.map(() => 2) };
    const [once, twice] = [clusteredIncidence(rows), clusteredIncidence({ ...rows, weight })];
    once.curves[0]?.standardError.forEach((error, step) => {
      expect(twice.curves[0]?.standardError[step]).toBeCloseTo(error, 12);
    });
    const { cluster: _, ...unclustered } = rows;
    const alone = clusteredIncidence(unclustered).curves[0]?.standardError ?? [];
    const copies = clusteredIncidence({ ...unclustered, weight }).curves[0]?.standardError ?? [];
    alone.forEach((error, step) => {
      expect(copies[step]).toBeCloseTo(error / Math.SQRT2, 12);
    });
  });

  it("does not change when all sampling weights are multiplied, nor when a case is cut in pieces", () => {
    const rows = rowsOf(25, {
      rows: 100,
      groups: 2,
      strata: 1,
      causes: 2,
      entries: false,
      clusters: 12,
      lastTick: 30,
    });
    const weighted = (factor: number) => ({
      ...rows,
      weight: { kind: "sampling" as const, values: rows.exit.map((_, row) => factor * (1 + (row % 3))) },
    });
    const [small, large] = [
      clusteredIncidence(weighted(1)).curves,
      clusteredIncidence(weighted(1000)).curves,
    ];
    small.forEach((curve, place) => {
      curve.lower.forEach((lower, step) => {
        if (lower !== null) expect(large[place]?.lower[step]).toBeCloseTo(lower, 10);
      });
    });
    const { cluster: _, ...whole } = rows;
    const uncut = clusteredIncidence(whole).curves;
    const inPieces = clusteredIncidence(cutAt(whole, 9)).curves;
    uncut.forEach((curve, place) => {
      curve.time.forEach((tick, step) => {
        const other = inPieces[place];
        const there = (other?.time.filter((time) => time <= tick).length ?? 0) - 1;
        expect(other?.standardError[there]).toBeCloseTo(curve.standardError[step] ?? 0, 12);
      });
    });
  });

  it("uses t on clusters − 1 below 30 clusters, and has no limits for a single one", () => {
    const shape = { rows: 300, groups: 1, strata: 1, causes: 2, entries: false };
    const few = clusteredIncidence(rowsOf(26, { ...shape, clusters: 10 }), { scale: "linear" }).curves[0];
    const step = 20;
    // Reference: t(0.975, 9 df) = 2.262157, standard table.
    const half = (few?.upper[step] ?? 0) - (few?.incidence[step] ?? 0);
    expect(half / (few?.standardError[step] ?? 1)).toBeCloseTo(2.262157, 6);
    const single = clusteredIncidence(rowsOf(26, { ...shape, clusters: 1 })).curves[0];
    expect(single?.limits[step]).toBe("one cluster");
    expect(single?.upper[step]).toBeNull();
  });

  it("gives no limits, rather than limits of no width, where clusters are all alike", () => {
    // Two clusters of the same make-up: each one's influence adds up to 0.
    const columns = {
      exit: [1, 2, 3, 1, 2, 3],
      event: [1, 0, 1, 1, 0, 1],
      cluster: { codes: [0, 0, 0, 1, 1, 1], word: "surgeon" },
    };
    const [incidence] = clusteredIncidence(columns).curves;
    expect(incidence?.limits).toEqual(["no spread", "no spread", "nobody left"]);
    expect(incidence?.upper).toEqual([null, null, null]);
    const [survival] = clusteredSurvival(columns).groups;
    expect(survival?.limits).toEqual(["no spread", "no spread", "nobody left"]);
  });

  it("says what it is clustered on", () => {
    const rows = rowsOf(27, { rows: 50, groups: 1, strata: 1, causes: 1, entries: false });
    expect(clusteredIncidence(rows).settings.clusteredBy).toBe("surgeon");
    expect(clusteredSurvival(rows).settings.clusteredBy).toBe("surgeon");
  });

  it("takes nobody, one case, and an empty group", () => {
    const cluster = { codes: [], word: "surgeon" };
    expect(clusteredIncidence({ exit: [], event: [], cluster }).curves).toHaveLength(1);
    const one = clusteredIncidence({ exit: [3], event: [0], cluster: { codes: [4], word: "surgeon" } });
    expect(one.curves[0]).toMatchObject({ incidence: [0], limits: ["none seen"] });
    const group = { codes: [1, 1], labels: ["empty", "full"] };
    expect(clusteredIncidence({ exit: [1, 2], event: [1, 0], group }).curves[0]?.time).toEqual([]);
  });
});

function cutAt<Columns extends Omit<ReturnType<typeof rowsOf>, "cluster">>(columns: Columns, tick: number) {
  const pieces = columns.exit.flatMap((exit, row) =>
    exit > tick
      ? [
          { row, entry: -1, exit: tick, event: 0 },
          { row, entry: tick, exit, event: columns.event[row] ?? 0 },
        ]
      : [{ row, entry: -1, exit, event: columns.event[row] ?? 0 }],
  );
  const codes = (of: readonly number[]) => pieces.map(({ row }) => of[row] ?? 0);
  return {
    exit: pieces.map((piece) => piece.exit),
    event: pieces.map((piece) => piece.event),
    entry: pieces.map((piece) => piece.entry),
    caseId: pieces.map((piece) => piece.row),
    group: { ...columns.group, codes: codes(columns.group.codes) },
    stratum: { ...columns.stratum, codes: codes(columns.stratum.codes) },
    causes: columns.causes,
  };
}
