import { choleskyFactor, choleskySolve } from "../numeric/symmetric-matrix.ts";
import { linearPredictor, productSum } from "./linear-predictor.ts";
import type { OutcomeRows } from "./outcome-rows.ts";
import type { FittedPoint } from "./variance-of-fit.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

/** A least-squares fit of scaled columns. */
export interface LeastSquares extends FittedPoint {
  readonly at: readonly number[];
  /** Weighted squares about the mean, and about the fit. */
  readonly total: number;
  readonly left: number;
}

/** Undefined where the columns cannot be told apart. The constant comes first. */
export function leastSquares(
  values: readonly Float64Array[],
  { outcome, weight }: OutcomeRows,
): LeastSquares | undefined {
  const weights = weight?.values ?? new Float64Array(outcome.length).fill(1);
  const information = weightedCrossProducts(values, weights);
  const factor = choleskyFactor(information);
  if (factor === undefined) return undefined;
  const away = (at: readonly number[]) => {
    const predictor = linearPredictor(values, at, outcome.length);
    return outcome.map((value, row) => value - (predictor[row] ?? 0));
  };
  const weighted = (error: Float64Array) => error.map((value, row) => value * (weights[row] ?? 0));
  const step = (error: Float64Array) => {
    const scored = weighted(error);
    return choleskySolve(
      factor,
      values.map((column) => productSum(column, scored)),
    );
  };
  // From the mean, so that a large level does not eat the figures; twice, since the second pass mends the rounding.
  const mean = productSum(outcome, weights) / weights.reduce((sum, one) => sum + one, 0);
  let at: readonly number[] = values.map((_, place) => (place === 0 ? mean : 0));
  const first = away(at);
  const total = productSum(first, weighted(first));
  for (let pass = 0; pass < 2; pass += 1) {
    const change = step(away(at));
    at = at.map((value, place) => value + (change[place] ?? 0));
  }
  const error = away(at);
  const residual = weighted(error);
  return { at, information, residual, total, left: productSum(error, residual) };
}
