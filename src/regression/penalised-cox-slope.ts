import { sumBackwards } from "./cox-cells.ts";
import type { CoxPoint } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import type { PenalisedSameDayRule } from "./penalised-cox.ts";
import { quadraticForms } from "./penalised-likelihood.ts";

/** Sums over those at risk, and over those with the event, in every cell. */
interface CellSums {
  readonly atRisk: Float64Array;
  readonly failing: Float64Array;
}

/**
 * Slope of half the logarithm of the determinant of the information I, with V its inverse.
 *
 * The slope of I along β_r is the third cumulant of the columns among those at risk, summed over events. Its product with V
 * needs no array of three indexes: with q = xᵀ V x and means x̄ over those at risk it is, for one event,
 *
 *   E[q x_r] − E[q] x̄_r − 2 x̄ᵀ V ( E[x x_r] − x̄ x̄_r ),
 *
 * so that one pass over the rows for each pair of columns is enough.
 */
export function coxPenaltySlope(
  rows: CoxRows,
  rule: PenalisedSameDayRule,
  values: readonly Float64Array[],
  { sums }: CoxPoint,
  inverse: readonly (readonly number[])[],
): number[] {
  const { relative } = sums;
  const over = (product: (row: number) => number) => cellSums(rows, relative, product);
  const form = quadraticForms(values, inverse, rows.count);
  const ofForm = over((row) => form[row]!);
  const ofFormBy = values.map((column) => over((row) => form[row]! * column[row]!));
  const ofPairs = values.map((one, j) =>
    values.slice(0, j + 1).map((other) => over((row) => one[row]! * other[row]!)),
  );
  const slope = values.map(() => 0);
  for (let cell = 0; cell < rows.cells.count; cell += 1) {
    const events = rows.cells.events[cell]!;
    const turns = events === 0 ? 0 : rule === "efron" ? events : 1;
    for (let turn = 0; turn < turns; turn += 1) {
      const share = turn / turns;
      const total = sums.atRisk[cell]! - share * sums.failing[cell]!;
      const mean = ({ atRisk, failing }: CellSums) => (atRisk[cell]! - share * failing[cell]!) / total;
      const means = values.map((_, j) => mean({ atRisk: sums.atRiskBy[j]!, failing: sums.failingBy[j]! }));
      const turnedMeans = inverse.map((line) => line.reduce((sum, value, k) => sum + value * means[k]!, 0));
      const formMean = mean(ofForm);
      for (let r = 0; r < slope.length; r += 1) {
        let between = 0;
        for (let j = 0; j < slope.length; j += 1) {
          const pair = mean(ofPairs[Math.max(j, r)]![Math.min(j, r)]!);
          between += turnedMeans[j]! * (pair - means[j]! * means[r]!);
        }
        const third = mean(ofFormBy[r]!) - formMean * means[r]! - 2 * between;
        slope[r]! += (0.5 * events * third) / turns;
      }
    }
  }
  return slope;
}

function cellSums(
  { count, cells, exitCell, entryCell, eventRows }: CoxRows,
  relative: Float64Array,
  product: (row: number) => number,
): CellSums {
  const [atRisk, failing] = [new Float64Array(cells.count), new Float64Array(cells.count)];
  for (let row = 0; row < count; row += 1) {
    const value = relative[row]! * product(row);
    atRisk[exitCell[row]!]! += value;
    if (entryCell !== undefined) atRisk[entryCell[row]!]! -= value;
  }
  for (const row of eventRows) failing[exitCell[row]!]! += relative[row]! * product(row);
  sumBackwards(cells, atRisk);
  return { atRisk, failing };
}
