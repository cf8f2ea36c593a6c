import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import {
  requireCount,
  requireFinite,
  requirePositive,
  requireProbability,
} from "../numeric/argument-checks.ts";

/** Clusters by their sizes, or by the mean size and the coefficient of variation (divided by k, not k − 1). */
export type ClusterSizes =
  | { readonly sizes: readonly number[] }
  | { readonly meanSize: number; readonly variation: number };

export type DesignEffect = Answer<{
  /** Factor by which clustering widens a variance. */
  readonly factor: number;
  /** Size of the cluster in which a unit finds itself, on average over units. */
  readonly sizeMetByUnit: number;
}>;

/**
 * How many times more units a study needs because units of one cluster are alike.
 *
 * 1 + ((1 + v²)m − 1)ρ with mean size m, coefficient of variation v and intraclass correlation ρ, for an exposure that
 * is the same within a cluster; (1 + v²)m is Σnᵢ²/Σnᵢ. Source: Eldridge, Ashby and Kerry 2006.
 *
 * @example
 * designEffect({ meanSize: 50, variation: 0 }, { intraclass: 0.05 }); // factor 3.45
 */
export function designEffect(clusters: ClusterSizes, options: { readonly intraclass: number }): DesignEffect {
  const { intraclass } = options;
  requireProbability("designEffect", "intraclass", intraclass);
  const sizeMetByUnit = "sizes" in clusters ? sizeFromList(clusters.sizes) : sizeFromMoments(clusters);
  if (sizeMetByUnit === undefined) return notComputed("no-units", "no cluster holds a unit");
  return computed({ factor: 1 + (sizeMetByUnit - 1) * intraclass, sizeMetByUnit });
}

function sizeFromList(sizes: readonly number[]): number | undefined {
  for (const size of sizes) requireCount("designEffect", "each size", size);
  const units = sizes.reduce((sum, size) => sum + size, 0);
  return units === 0 ? undefined : sizes.reduce((sum, size) => sum + size * size, 0) / units;
}

function sizeFromMoments({ meanSize, variation }: Extract<ClusterSizes, { meanSize: number }>): number {
  requirePositive("designEffect", "meanSize", meanSize);
  requireFinite("designEffect", "variation", variation);
  if (meanSize < 1 || variation < 0) {
    throw new ArgumentError("designEffect: meanSize must be at least 1 and variation at least 0");
  }
  return (1 + variation * variation) * meanSize;
}
