import type { LikelihoodPoint } from "../numeric/newton.ts";
import { preciseRunningSums, runningSums } from "./cox-cells.ts";
import { type CellTerms, cellTerms, type SameDayRule } from "./cox-hazard.ts";
import type { CoxRows } from "./cox-rows.ts";
import { type CellSums, type RiskSums, riskSums } from "./cox-sums.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

/** The log partial likelihood at one point, with the sums that it was made of. */
export interface CoxPoint extends LikelihoodPoint {
  readonly sums: RiskSums;
  readonly terms: CellTerms;
}

/**
 * Log partial likelihood, score and information for the columns given, each cell written as in `CellTerms`.
 *
 * The information is Σ over rows of x xᵀ · relative · (hazard passed) less a sum over cells, so that no matrix is carried
 * from cell to cell and the cost is rows × columns², whatever the number of ticks.
 */
export function coxLikelihood(
  rows: CoxRows,
  rule: Exclude<SameDayRule, "exact">,
  values: readonly Float64Array[],
  beta: ArrayLike<number>,
  offset?: Float64Array,
): CoxPoint {
  const sums = riskSums(rows, values, beta, offset);
  const terms = cellTerms(rule, rows.cells, sums);
  return {
    logLikelihood: sums.eventPredictor + terms.logLikelihood,
    score: sums.observed.map((observed, j) => observed - expectedSum(sums, terms, j)),
    information: informationOf(rows, values, sums, terms),
    sums,
    terms,
  };
}

/** Expected sum of a column over all events. */
export function expectedSum(sums: RiskSums, terms: CellTerms, j: number): number {
  let expected = 0;
  for (let cell = 0; cell < terms.hazard.length; cell += 1) expected += expectedAt(sums, terms, j, cell);
  return expected;
}

/** Expected sum of a column over the events of a cell. */
export function expectedAt(sums: RiskSums, terms: CellTerms, j: number, cell: number): number {
  return sums.atRiskBy[j]![cell]! * terms.hazard[cell]! - sums.failingBy[j]![cell]! * terms.spared[cell]!;
}

/** Information summed over the cells, each multiplied by its factor; without factors, the information itself. */
export function informationOf(
  rows: CoxRows,
  values: readonly Float64Array[],
  sums: RiskSums,
  terms: CellTerms,
  factor?: Float64Array,
): number[][] {
  const squares = weightedCrossProducts(values, exposure(rows, sums, terms, factor));
  const column = (j: number): CellSums => ({ atRisk: sums.atRiskBy[j]!, failing: sums.failingBy[j]! });
  const information = squares.map((line) => [...line]);
  for (let j = 0; j < values.length; j += 1) {
    for (let k = 0; k <= j; k += 1) {
      information[j]![k]! -= meansProduct(column(j), column(k), terms, factor);
      information[k]![j] = information[j]![k]!;
    }
  }
  return information;
}

/** Σ over events of the product of two means over those at risk, each cell multiplied by its factor. */
export function meansProduct(
  { atRisk: riskJ, failing: failJ }: CellSums,
  { atRisk: riskK, failing: failK }: CellSums,
  terms: CellTerms,
  factor?: Float64Array,
): number {
  let sum = 0;
  for (let cell = 0; cell < riskJ.length; cell += 1) {
    const own =
      riskJ[cell]! * riskK[cell]! * terms.square[cell]! -
      (riskJ[cell]! * failK[cell]! + failJ[cell]! * riskK[cell]!) * terms.squareSpared[cell]! +
      failJ[cell]! * failK[cell]! * terms.squareSparedTwice[cell]!;
    sum += factor === undefined ? own : own * factor[cell]!;
  }
  return sum;
}

/** relative · hazard passed between entry and exit, each cell's hazard multiplied by its factor. */
export function exposure(
  rows: CoxRows,
  { relative }: Pick<RiskSums, "relative">,
  terms: CellTerms,
  factor?: Float64Array,
): Float64Array {
  const { cells, exitCell, entryCell, eventRows } = rows;
  const hazard = factor === undefined ? terms.hazard : terms.hazard.map((step, cell) => step * factor[cell]!);
  const exposed = new Float64Array(rows.count);
  if (entryCell === undefined) {
    const passed = factor === undefined ? terms.cumulative : runningSums(cells, hazard);
    for (let cell = 0; cell < cells.count; cell += 1) {
      const own = passed[cell]!;
      const end = cells.leaving[cell + 1]!;
      for (let i = cells.leaving[cell]!; i < end; i += 1) exposed[i] = relative[i]! * own;
    }
  } else {
    const { sums, lost } = preciseRunningSums(cells, hazard);
    for (let i = 0; i < exposed.length; i += 1) {
      const [from, to] = [entryCell[i]!, exitCell[i]!];
      exposed[i] = relative[i]! * (sums[to]! - sums[from]! + (lost[to]! - lost[from]!));
    }
  }
  for (const i of eventRows) {
    const cell = exitCell[i]!;
    exposed[i]! -= relative[i]! * terms.spared[cell]! * (factor?.[cell] ?? 1);
  }
  return exposed;
}
