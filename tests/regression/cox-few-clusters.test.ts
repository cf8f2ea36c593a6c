import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import type { SameDayRule } from "../../src/regression/cox-hazard.ts";
import { coxLikelihood } from "../../src/regression/cox-likelihood.ts";
import { ownInformation } from "../../src/regression/cox-own-information.ts";
import { coxRows } from "../../src/regression/cox-rows.ts";
import { referenceRecord } from "../reference/record.ts";
import { type CoxExample, fitted, lung, matrixOf } from "./cox-examples.ts";
import { drawnExample } from "./drawn-example.ts";

type Matrix = readonly (readonly number[])[];

/** Determinant and inverse of two by two, written out. */
function inverse2([[a = 0, b = 0] = [], [c = 0, d = 0] = []]: Matrix): number[][] {
  const determinant = a * d - b * c;
  return [
    [d / determinant, -b / determinant],
    [-c / determinant, a / determinant],
  ];
}
const times = (left: Matrix, right: Matrix): number[][] =>
  left.map((line) =>
    (right[0] ?? []).map((_, k) => line.reduce((sum, value, m) => sum + value * (right[m]?.[k] ?? 0), 0)),
  );
const plus = (left: Matrix, right: Matrix, factor = 1): number[][] =>
  left.map((line, j) => line.map((value, k) => value + factor * (right[j]?.[k] ?? 0)));
const IDENTITY = [
  [1, 0],
  [0, 1],
];
const ZERO = [
  [0, 0],
  [0, 0],
];

/**
 * The corrected clustered variance from its definition: for every turn of every tick, every row at risk adds to the score and
 * to the information of its cluster. Two columns, at coefficients given.
 */
function naiveCorrected(
  { columns, matrix }: CoxExample,
  rule: Exclude<SameDayRule, "exact">,
  beta: readonly number[],
): { readonly covariance: number[][]; readonly own: Map<number, number[][]>; readonly all: number[][] } {
  const { exit, event, entry, stratum, weight, cluster } = columns;
  const rows = [...matrix.rows.keys()];
  const x = (row: number) => matrix.columns.map(({ values }) => values[row] ?? 0);
  const w = (row: number) => weight?.values[row] ?? 1;
  const r = (row: number) =>
    w(row) * Math.exp(x(row).reduce((sum, value, j) => sum + value * (beta[j] ?? 0), 0));
  const score = new Map<number, number[]>();
  const own = new Map<number, number[][]>();
  const cell = (row: number) => `${stratum?.codes[row] ?? 0} ${exit[row]}`;
  const failed = rows.filter((row) => event[row] !== 0);
  for (const key of new Set(failed.map(cell))) {
    const failing = failed.filter((row) => cell(row) === key);
    const [tick, place] = [exit[failing[0] ?? 0] ?? 0, stratum?.codes[failing[0] ?? 0] ?? 0];
    const atRisk = rows.filter(
      (row) =>
        (stratum?.codes[row] ?? 0) === place && (entry?.[row] ?? -1) < tick && (exit[row] ?? 0) >= tick,
    );
    const events = failing.reduce((sum, row) => sum + w(row), 0) / failing.length;
    failing.forEach((_, turn) => {
      const gone = rule === "efron" ? turn / failing.length : 0;
      const part = (row: number) => r(row) * (failing.includes(row) ? 1 - gone : 1);
      const sum = atRisk.reduce((total, row) => total + part(row), 0);
      const mean = [0, 1].map(
        (j) => atRisk.reduce((total, row) => total + part(row) * (x(row)[j] ?? 0), 0) / sum,
      );
      for (const row of atRisk) {
        const code = cluster?.codes[row] ?? row;
        const from = x(row).map((value, j) => value - (mean[j] ?? 0));
        const hazard = (events * part(row)) / sum;
        // Every event of the tick has its mean taken over all turns.
        const seen = failing.includes(row) ? w(row) / failing.length : 0;
        score.set(
          code,
          from.map((value, j) => (score.get(code)?.[j] ?? 0) + (seen - hazard) * value),
        );
        const square = from.map((a) => from.map((b) => hazard * a * b));
        own.set(code, plus(own.get(code) ?? ZERO, square));
      }
    });
  }
  const all = [...own.values()].reduce((sum, one) => plus(sum, one), ZERO);
  const bread = inverse2(all);
  let spread = ZERO;
  for (const [code, part] of own) {
    const lever = inverse2(plus(IDENTITY, times(part, bread), -1));
    const corrected = times(
      lever,
      (score.get(code) ?? []).map((value) => [value]),
    );
    spread = plus(spread, times(corrected, [corrected.map(([value = 0]) => value)]));
  }
  return { covariance: times(times(bread, spread), bread), own, all };
}

function expectClose(ours: Matrix, theirs: Matrix, relative: number): void {
  theirs.forEach((line, j) => {
    line.forEach((value, k) => {
      const size = Math.sqrt(Math.abs((theirs[j]?.[j] ?? 0) * (theirs[k]?.[k] ?? 0)));
      expect(Math.abs((ours[j]?.[k] ?? Number.NaN) - value), `${j}, ${k}`).toBeLessThanOrEqual(
        relative * size,
      );
    });
  });
}

const RULES = ["efron", "breslow"] as const;
const SEEDS = [11, 12, 13];

describe('coxRegression() with smallSample "shares"', () => {
  it.each(RULES)("meets a twin that sums over every row of every risk set (%s)", (sameDay) => {
    for (const seed of SEEDS) {
      for (const weighted of [false, true]) {
        const example = drawnExample(seed, { clustered: true, weighted });
        const fit = fitted(example, { sameDay, smallSample: "shares" });
        const beta = fit.columns.map(({ hazardRatio }) => (hazardRatio.computed ? hazardRatio.logRatio : 0));
        expectClose(fit.covariance, naiveCorrected(example, sameDay, beta).covariance, 1e-9);
        expect(fit.settings.smallSample).toBe("shares");
      }
    }
  });

  it("meets cox.lung_over_the_rest", () => {
    const fit = fitted(lung({ clustered: true }), { sameDay: "breslow", smallSample: "shares" });
    const { expected } = referenceRecord("23_frailty", "cox.lung_over_the_rest");
    expectClose(fit.covariance, expected.vcov, 1e-9);
    expect(fit.settings.clusters).toEqual([expected.clusters]);
  });

  it.each(RULES)("gives clusters parts that add up to the information (%s)", (sameDay) => {
    for (const seed of SEEDS) {
      const { columns, matrix } = drawnExample(seed, { clustered: true, weighted: true });
      const rows = coxRows("test", columns, matrix);
      const values = rows.columns.map((column) => column.values);
      const point = coxLikelihood(rows, sameDay, values, [0.3, -0.2]);
      const own = ownInformation(rows, values, point);
      const sum = values.map(() => new Float64Array(values.length));
      for (let i = 0; i < rows.count; i += 1) own.add(sum, i, 1);
      sum.forEach((line, j) => {
        for (let k = 0; k <= j; k += 1) {
          expect(Math.abs((line[k] ?? 0) - (point.information[j]?.[k] ?? 0))).toBeLessThan(1e-11);
        }
      });
    }
  });

  it("hardly differs from no correction where every cluster is small, and widens every interval", () => {
    const stream = randomStreams(3).stream("many clusters");
    const rows = 3_000;
    const x = Array.from({ length: rows }, () => (stream.uniform() < 0.5 ? 1 : 0));
    const many = {
      columns: {
        exit: Array.from({ length: rows }, () => 1 + stream.below(500)),
        event: Array.from({ length: rows }, () => (stream.uniform() < 0.6 ? 1 : 0)),
        cluster: { codes: x.map((_, row) => row), word: "knee" },
      },
      matrix: matrixOf({ x }),
    };
    const error = (smallSample: "none" | "shares") => {
      const ratio = fitted(many, { smallSample }).columns[0]?.hazardRatio;
      return ratio?.computed ? ratio.standardError : 0;
    };
    const growth = error("shares") / error("none");
    expect(growth).toBeGreaterThan(1);
    expect(growth).toBeLessThan(1.001);
    const few = (smallSample: "none" | "shares") =>
      fitted(lung({ clustered: true }), { smallSample }).covariance;
    few("shares").forEach((line, j) => {
      expect(line[j] ?? 0).toBeGreaterThan(few("none")[j]?.[j] ?? 0);
    });
  });

  it("leaves the estimate, the model's variance and every other setting as they were", () => {
    const plain = fitted(lung({ clustered: true }));
    const shares = fitted(lung({ clustered: true }), { smallSample: "shares" });
    expect(shares.modelCovariance).toEqual(plain.modelCovariance);
    expect(shares.columns.map(({ hazardRatio }) => hazardRatio.computed && hazardRatio.ratio)).toEqual(
      plain.columns.map(({ hazardRatio }) => hazardRatio.computed && hazardRatio.ratio),
    );
  });

  it("leaves the score of a cluster alone without which nothing could be fitted", () => {
    // In the second ward alone does x vary; the first has a baseline of its own.
    const columns = {
      exit: [1, 2, 3, 4, 5, 6, 7, 8],
      event: [1, 1, 0, 1, 1, 1, 1, 0],
      stratum: { codes: [0, 0, 0, 1, 1, 1, 1, 1], labels: ["first", "second"] },
      cluster: { codes: [0, 0, 0, 1, 1, 1, 1, 1], word: "ward" },
    };
    const example = { columns, matrix: matrixOf({ x: [1, 1, 1, 0, 1, 0, 1, 0] }) };
    expect(fitted(example, { smallSample: "shares" }).covariance).toEqual(
      fitted(example, { smallSample: "none" }).covariance,
    );
  });

  it("is for clusters alone", () => {
    expect(() => fitted(lung(), { variance: "robust", smallSample: "shares" })).toThrow(
      'smallSample "shares" needs the variance "clustered"',
    );
    expect(() => fitted(lung(), { smallSample: "many" as "none" })).toThrow("none, clusters, shares");
  });
});
