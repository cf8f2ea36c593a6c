import { fUpperQuantile } from "../numeric/f-distribution.ts";

/**
 * By what factor the hazard differs between two clusters drawn at random, the larger over the smaller, in half of all draws.
 *
 * The ratio of two gamma frailties of variance θ follows an F distribution with 2/θ degrees of freedom above and below, and its
 * larger-over-smaller form lies under m where the ratio itself lies between 1/m and m: the median is the upper quartile of F.
 *
 * Source: Larsen, Petersen, Budtz-Jørgensen and Endahl 2000 for the median ratio of normal effects.
 *
 * @example
 * medianHazardRatio(1); // 3
 */
export function medianHazardRatio(variance: number): number {
  return variance > 0 ? fUpperQuantile(0.25, 2 / variance, 2 / variance) : 1;
}
