import type { LikelihoodPoint } from "../numeric/newton.ts";
import { linearPredictor, productSum } from "./linear-predictor.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

/** The logistic log-likelihood at one point. */
export interface LogisticPoint extends LikelihoodPoint {
  /** Weight · (outcome − probability) of each row. */
  readonly residual: Float64Array;
  /** Weight · probability · (1 − probability) of each row. */
  readonly spread: Float64Array;
}

/** Log-likelihood of outcomes 0 and 1, each row weighted, for the columns given. */
export function logisticLikelihood(
  values: readonly Float64Array[],
  outcome: Float64Array,
  weight: Float64Array | undefined,
  at: ArrayLike<number>,
): LogisticPoint {
  const predictor = linearPredictor(values, at, outcome.length);
  const residual = new Float64Array(outcome.length);
  const spread = new Float64Array(outcome.length);
  let logLikelihood = 0;
  // Every index below is a row.
  for (let row = 0; row < outcome.length; row += 1) {
    const linear = predictor[row]!;
    const w = weight === undefined ? 1 : weight[row]!;
    // From the smaller of the two chances, so that neither loses its figures.
    const small = Math.exp(-Math.abs(linear));
    const chance = linear > 0 ? 1 / (1 + small) : small / (1 + small);
    const other = linear > 0 ? small / (1 + small) : 1 / (1 + small);
    const isEvent = outcome[row] === 1;
    const against = isEvent === linear > 0 ? 0 : Math.abs(linear);
    logLikelihood -= w * (against + Math.log1p(small));
    residual[row] = w * (isEvent ? other : -chance);
    spread[row] = w * chance * other;
  }
  return {
    logLikelihood,
    score: values.map((column) => productSum(column, residual)),
    information: weightedCrossProducts(values, spread),
    residual,
    spread,
  };
}
