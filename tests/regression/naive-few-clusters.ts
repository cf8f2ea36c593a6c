import type { SameDayRule } from "../../src/regression/cox-hazard.ts";
import type { CoxExample } from "./cox-examples.ts";

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
export function naiveCorrected(
  { columns, matrix }: CoxExample,
  rule: Exclude<SameDayRule, "exact">,
  beta: readonly number[],
): {
  readonly covariance: number[][];
  /** By cluster, inverse information times the corrected score: how far it moves the coefficients. */
  readonly moves: ReadonlyMap<number, readonly number[]>;
} {
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
  const moves = new Map<number, number[]>();
  let spread = ZERO;
  for (const [code, part] of own) {
    const lever = inverse2(plus(IDENTITY, times(part, bread), -1));
    const corrected = times(
      lever,
      (score.get(code) ?? []).map((value) => [value]),
    );
    moves.set(
      code,
      times(bread, corrected).map(([value = 0]) => value),
    );
    spread = plus(spread, times(corrected, [corrected.map(([value = 0]) => value)]));
  }
  return { covariance: times(times(bread, spread), bread), moves };
}
