import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { denseCodes } from "./dense-codes.ts";

export type BetweenGroupShare = Answer<{
  /** From 0 to 1; an estimate below 0 is shown as 0. */
  readonly share: number;
  /** The estimate as it came out; below 0 where clusters are more alike than chance would make them. */
  readonly estimate: number;
  readonly clusters: number;
  readonly n: number;
}>;

/**
 * How much of the variation of a value lies between clusters, such as surgeons, rather than within them.
 *
 * The intraclass correlation of a one-way analysis of variance, (B − W) / (B + (m − 1)W), with B and W the mean squares
 * between and within clusters and m = (n − Σnᵢ²/n) / (k − 1) the size of a typical cluster. 1 where every cluster is of
 * one mind, about 0 where clusters are alike. Numbers, or 0 and 1 for a choice. Source: Donner 1986.
 *
 * No answer with fewer than two clusters, with one case in every cluster, or where all values are equal.
 *
 * @example
 * betweenGroupShare([1, 1, 0, 0], [7, 7, 8, 8]); // share 1
 */
export function betweenGroupShare(values: ArrayLike<number>, clusters: ArrayLike<number>): BetweenGroupShare {
  if (values.length !== clusters.length) {
    throw new ArgumentError("betweenGroupShare: values and clusters must be of one length");
  }
  const n = values.length;
  const { codes, size } = denseCodes("betweenGroupShare", clusters);
  const { sizes, means, within, isConstant } = clusterMeans(values, codes, size);
  const used = sizes.reduce((count, units) => count + (units > 0 ? 1 : 0), 0);
  if (used < 2) return notComputed("one-cluster", "fewer than two clusters");
  if (isConstant)
    return notComputed("no-variation", "all values are equal, so there is no variation to divide");
  if (used === n)
    return notComputed("no-repeats", "every cluster holds one case, so nothing varies within it");
  const weighted = (term: (cluster: number) => number) =>
    sizes.reduce((sum, units, cluster) => (units > 0 ? sum + units * term(cluster) : sum), 0);
  // In range: one mean and one size per cluster.
  const grandMean = weighted((cluster) => means[cluster]!) / n;
  const betweenMean = weighted((cluster) => square(means[cluster]! - grandMean)) / (used - 1);
  const withinMean = within / (n - used);
  const typicalSize = (n - weighted((cluster) => sizes[cluster]!) / n) / (used - 1);
  const estimate = (betweenMean - withinMean) / (betweenMean + (typicalSize - 1) * withinMean);
  return computed({ share: Math.max(0, estimate), estimate, clusters: used, n });
}

/** Mean of each cluster, and squares around them, in one pass (Welford 1962). Means count from the first value. */
function clusterMeans(values: ArrayLike<number>, codes: Int32Array, size: number) {
  const sizes = new Float64Array(size);
  const means = new Float64Array(size);
  const origin = values[0] ?? 0;
  let within = 0;
  let isConstant = true;
  for (let row = 0; row < codes.length; row += 1) {
    // In range: values and codes are of one length, and sizes and means have a place for each code.
    const value = values[row]!;
    const code = codes[row]!;
    if (!Number.isFinite(value)) {
      throw new ArgumentError("betweenGroupShare: values must be finite numbers; leave missing ones out");
    }
    if (value !== origin) isConstant = false;
    const fromMean = value - origin - means[code]!;
    sizes[code]! += 1;
    means[code]! += fromMean / sizes[code]!;
    within += fromMean * (value - origin - means[code]!);
  }
  return { sizes, means, within, isConstant };
}

function square(value: number): number {
  return value * value;
}
