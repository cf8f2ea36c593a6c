import { type RiskCells, runningSums } from "./cox-cells.ts";
import { meanTimesHazard, sparedMean } from "./cox-influence.ts";
import { type CoxPoint, exposure, meansProduct } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import { cellSums } from "./cox-sums.ts";
import { productSum } from "./linear-predictor.ts";
import { quadraticForms } from "./penalised-likelihood.ts";

/**
 * Slope of half the logarithm of the determinant of the information I, with V its inverse.
 *
 * The slope of I along β_r is the third cumulant of the columns among those at risk, summed over events. Its product with V
 * needs no array of three indexes: with q = xᵀ V x and means x̄ over those at risk it is, for one event,
 *
 *   E[q x_r] − E[q] x̄_r − 2 E[(x̄ᵀ V x) x_r] + 2 (x̄ᵀ V x̄) x̄_r.
 *
 * In the first and third a row is multiplied by what has passed while it was at risk, so that they are sums over rows; the
 * others are sums over cells. The cost is rows × columns² for q, and rows × columns for the rest.
 */
export function coxPenaltySlope(
  rows: CoxRows,
  values: readonly Float64Array[],
  { sums, terms }: CoxPoint,
  inverse: readonly (readonly number[])[],
): number[] {
  const { relative } = sums;
  const form = quadraticForms(values, inverse, rows.count);
  const share = exposure(rows, sums, terms);
  const drawn = drawnToMeans(rows, values, { sums, terms }, inverse);
  for (let i = 0; i < share.length; i += 1) share[i] = share[i]! * form[i]! - 2 * relative[i]! * drawn[i]!;
  const ofForm = cellSums(rows, relative, form);
  const ofMeans = meansTimesTheirForm(rows.cells, { sums, terms }, inverse);
  return values.map((column, r) => {
    const ofColumn = { atRisk: sums.atRiskBy[r]!, failing: sums.failingBy[r]! };
    const overRows = productSum(share, column);
    return 0.5 * (overRows - meansProduct(ofForm, ofColumn, terms)) + ofMeans[r]!;
  });
}

type At = Pick<CoxPoint, "sums" | "terms">;

/** Σ x̄ᵀ V x · hazard of each row, over the cells it was at risk in. */
function drawnToMeans(
  { cells, count, entryCell }: CoxRows,
  values: readonly Float64Array[],
  { sums, terms }: At,
  inverse: readonly (readonly number[])[],
): Float64Array {
  const turned = (series: readonly Float64Array[], j: number) =>
    new Float64Array(cells.count).map((_, cell) =>
      inverse[j]!.reduce((sum, value, k) => sum + value * series[k]![cell]!, 0),
    );
  const pulls = values.map((_, j) => runningSums(cells, meanTimesHazard(sums, terms, j)));
  const spared = values.map((_, j) => sparedMean(sums, terms, j));
  const drawn = new Float64Array(count);
  values.forEach((column, j) => {
    const [pull, less] = [turned(pulls, j), turned(spared, j)];
    for (let cell = 0; cell < cells.count; cell += 1) {
      const from = cells.leaving[cell]!;
      const end = cells.leaving[cell + 1]!;
      const [passed, own] = [pull[cell]!, less[cell]!];
      for (let i = from; i < end; i += 1) drawn[i]! += passed * column[i]!;
      // Those with the event lie first in a cell.
      for (let i = from; i < from + cells.events[cell]!; i += 1) drawn[i]! -= own * column[i]!;
    }
    if (entryCell === undefined) return;
    for (let i = 0; i < count; i += 1) drawn[i]! -= pull[entryCell[i]!]! * column[i]!;
  });
  return drawn;
}

/** By column: Σ over events of (x̄ᵀ V x̄) x̄_r, over the turns of a tick. */
function meansTimesTheirForm(
  { count, events }: RiskCells,
  { sums, terms: { rule } }: At,
  inverse: readonly (readonly number[])[],
): Float64Array {
  const whole = new Float64Array(inverse.length);
  const mean = new Float64Array(inverse.length);
  for (let cell = 0; cell < count; cell += 1) {
    const turns = events[cell] === 0 ? 0 : rule === "efron" ? events[cell]! : 1;
    for (let turn = 0; turn < turns; turn += 1) {
      const share = turn / turns;
      const left = sums.atRisk[cell]! - share * sums.failing[cell]!;
      for (let j = 0; j < mean.length; j += 1) {
        mean[j] = (sums.atRiskBy[j]![cell]! - share * sums.failingBy[j]![cell]!) / left;
      }
      const form = (formOf(mean, inverse) * events[cell]!) / turns;
      for (let r = 0; r < mean.length; r += 1) whole[r]! += form * mean[r]!;
    }
  }
  return whole;
}

function formOf(x: Float64Array, matrix: readonly (readonly number[])[]): number {
  let form = 0;
  for (let j = 0; j < x.length; j += 1) {
    const line = matrix[j]!;
    let along = 0;
    for (let k = 0; k < x.length; k += 1) along += line[k]! * x[k]!;
    form += x[j]! * along;
  }
  return form;
}
