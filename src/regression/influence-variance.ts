import type { Clusters } from "../survival/observations.ts";
import type { CoxFit } from "./cox-result.ts";
import type { CoxState } from "./cox-state.ts";
import { type UnitScores, unitScores, unitWays } from "./unit-scores.ts";

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
  /** Where scores were corrected for their own part: degrees of freedom along the coefficients. */
  readonly freedom?: number;
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
  const ways = unitWays(rows, variance === "clustered", smallSample, second);
  const scores = unitScores(rows, point, values, ways, smallSample);
  return (influence) => {
    const variances = scores.map((way) => varianceBetween(way, influence));
    // One for each way.
    const [one, two, both] = variances as [InfluenceVariance, InfluenceVariance?, InfluenceVariance?];
    if (two === undefined || both === undefined) return one;
    const difference = one.variance + two.variance - both.variance;
    return {
      variance: difference > 0 ? difference : Math.max(one.variance, two.variance),
      units: Math.min(one.units, two.units),
      ...(one.freedom !== undefined &&
        two.freedom !== undefined && { freedom: Math.min(one.freedom, two.freedom) }),
    };
  };
}

function varianceBetween(
  { sums, scores, factor, freedom }: UnitScores,
  { held, byScore }: Influence,
): InfluenceVariance {
  const whole = sums.of(held).slice();
  byScore.forEach((slope, j) => {
    const score = scores[j]!;
    for (let unit = 0; unit < whole.length; unit += 1) whole[unit]! += slope * score[unit]!;
  });
  let squares = 0;
  for (let unit = 0; unit < whole.length; unit += 1) squares += whole[unit]! * whole[unit]!;
  return {
    variance: factor * squares,
    units: sums.seen,
    ...(freedom && byScore.length > 0 && { freedom: freedom(byScore) }),
  };
}

/** The correction in force: a model's variance is of no clusters, and nothing widens it. */
export function smallSampleOf({
  variance,
  smallSample,
}: CoxFit["settings"]): CoxFit["settings"]["smallSample"] {
  return variance === "model" ? "none" : smallSample;
}
