import type { Clusters } from "../survival/observations.ts";
import { independentUnits, type Units } from "../survival/units.ts";
import { scoreShares } from "./cox-influence.ts";
import type { CoxFit } from "./cox-result.ts";
import type { CoxState } from "./cox-state.ts";
import { sumsForSpread, unitScores } from "./cox-variance.ts";
import { crossedUnits, secondUnits } from "./two-way-units.ts";

/** How each row moves one number that is made of a fit. */
export interface Influence {
  /** By row, the coefficients held: what it does to the baseline and to an average, times its weight. */
  readonly held: Float64Array;
  /** By column: how far the number moves with the score, its slope times the inverse information. */
  readonly byScore: readonly number[];
}

/** Variance of one number from each row's influence on it, between how many units. */
export interface InfluenceVariance {
  readonly variance: number;
  readonly units: number;
}

/**
 * Variance of numbers made of a fit: Σ over the units of the fit of squared influence, widened for few clusters as the fit is.
 *
 * "clusters" multiplies by G / (G − 1); "shares" corrects each cluster's score, and leaves what it does to the baseline and to
 * an average. Two ways give first + second − both, and the larger of the two where that is not above 0.
 */
export function influenceVariance(
  state: CoxState,
  { variance, smallSample }: Pick<CoxFit["settings"], "variance" | "smallSample">,
  second?: Clusters,
): (influence: Influence) => InfluenceVariance {
  const { rows, point, values } = state;
  const { observations } = rows;
  const shares = values.map((column, j) => scoreShares(rows, point, column, j));
  const over = (units: Units) => {
    const { scores, seen, factor } = unitScores(rows, point, values, shares, units, smallSample);
    return ({ held, byScore }: Influence): InfluenceVariance => {
      const own = sumsForSpread(rows, [held], units, smallSample).sums[0]!;
      const whole = own.map((sum, unit) =>
        byScore.reduce((total, slope, j) => total + slope * scores[j]![unit]!, sum),
      );
      return { variance: factor * whole.reduce((sum, one) => sum + one * one, 0), units: seen };
    };
  };
  const isClustered = variance === "clustered";
  const first = independentUnits(observations, isClustered);
  if (!isClustered || second === undefined) return over(first);
  const other = secondUnits(second, first, observations.rows);
  const ways = [over(first), over(other), over(crossedUnits(first, other))] as const;
  return (influence) => {
    const [one, two, both] = [ways[0](influence), ways[1](influence), ways[2](influence)];
    const difference = one.variance + two.variance - both.variance;
    return {
      variance: difference > 0 ? difference : Math.max(one.variance, two.variance),
      units: Math.min(one.units, two.units),
    };
  };
}

/** The correction in force: a model's variance is of no clusters, and nothing widens it. */
export function smallSampleOf({
  variance,
  smallSample,
}: CoxFit["settings"]): CoxFit["settings"]["smallSample"] {
  return variance === "model" ? "none" : smallSample;
}
