import type { SameDayRule } from "../../src/regression/cox-hazard.ts";
import type { CoxExample } from "./cox-examples.ts";

/**
 * The log partial likelihood as it is written in books: over strata and ticks, with the risk set looked up each time. The
 * discrete one adds up every set of as many rows. Efron's correction takes the mean weight of the events of the tick.
 */
export function naiveLogLikelihood(
  { columns, matrix }: CoxExample,
  rule: SameDayRule,
  beta: readonly number[],
): number {
  const { exit, event, entry, stratum, weight } = columns;
  const rows = [...matrix.rows.keys()];
  const predictor = (row: number) =>
    matrix.columns.reduce((sum, { values }, j) => sum + (beta[j] ?? 0) * (values[row] ?? 0), 0);
  const w = (row: number) => weight?.values[row] ?? 1;
  const r = (row: number) => w(row) * Math.exp(predictor(row));
  const strata = [...new Set(rows.map((row) => stratum?.codes[row] ?? 0))];
  let total = 0;
  for (const own of strata) {
    const members = rows.filter((row) => (stratum?.codes[row] ?? 0) === own);
    const failed = members.filter((row) => event[row] !== 0);
    for (const tick of new Set(failed.map((row) => exit[row] ?? 0))) {
      const atRisk = members.filter((row) => (entry?.[row] ?? -1) < tick && (exit[row] ?? 0) >= tick);
      const failing = failed.filter((row) => exit[row] === tick);
      total += failing.reduce((sum, row) => sum + w(row) * predictor(row), 0);
      if (rule === "exact") {
        total -= Math.log(sumOverSets(atRisk.map(r), failing.length));
        continue;
      }
      const all = atRisk.reduce((sum, row) => sum + r(row), 0);
      const leaving = failing.reduce((sum, row) => sum + r(row), 0);
      const mean = failing.reduce((sum, row) => sum + w(row), 0) / failing.length;
      failing.forEach((_, turn) => {
        const share = rule === "efron" ? turn / failing.length : 0;
        total -= mean * Math.log(all - share * leaving);
      });
    }
  }
  return total;
}

/** Sum over all sets of `size` of the product of their members. */
function sumOverSets(values: readonly number[], size: number): number {
  if (size === 0) return 1;
  if (values.length < size) return 0;
  const [first = 0, ...rest] = values;
  return first * sumOverSets(rest, size - 1) + sumOverSets(rest, size);
}

/** The highest point over two coefficients, by halving the sides of a square of nine points. */
export function naiveMaximum(
  example: CoxExample,
  rule: SameDayRule,
): { readonly at: readonly number[]; readonly value: number } {
  let best = { at: [0, 0], value: naiveLogLikelihood(example, rule, [0, 0]) };
  for (let side = 1; side > 1e-8; ) {
    const around = [-1, 0, 1].flatMap((a) => [-1, 0, 1].map((b) => [a * side, b * side]));
    const candidates = around.map((by) => {
      const at = best.at.map((value, k) => value + (by[k] ?? 0));
      return { at, value: naiveLogLikelihood(example, rule, at) };
    });
    const next = candidates.reduce((most, one) => (one.value > most.value ? one : most), best);
    if (next === best) side /= 2;
    else best = next;
  }
  return best;
}
