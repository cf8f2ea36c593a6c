import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";

export type BetweenGroupShare = Answer<{
  /** From 0 to 1; an estimate below 0 is shown as 0. */
  readonly share: number;
  /** The estimate as it came out; below 0 where clusters are more alike than chance would make them. */
  readonly estimate: number;
  readonly clusters: number;
  readonly n: number;
}>;

interface ClusterSum {
  n: number;
  sum: number;
  squares: number;
}

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
  const origin = values[0] ?? 0;
  const { sums, isConstant } = sumByCluster(values, clusters, origin);
  const k = sums.length;
  if (k < 2) return notComputed("one-cluster", "fewer than two clusters");
  if (isConstant)
    return notComputed("no-variation", "all values are equal, so there is no variation to divide");
  if (k === n) return notComputed("no-repeats", "every cluster holds one case, so nothing varies within it");
  const grandMean = sums.reduce((sum, cluster) => sum + cluster.sum, 0) / n;
  let [between, within, squaredSizes] = [0, 0, 0];
  for (const cluster of sums) {
    const mean = cluster.sum / cluster.n;
    between += cluster.n * (mean - grandMean) * (mean - grandMean);
    within += cluster.squares;
    squaredSizes += cluster.n * cluster.n;
  }
  const betweenMean = between / (k - 1);
  const withinMean = within / (n - k);
  const typicalSize = (n - squaredSizes / n) / (k - 1);
  const estimate = (betweenMean - withinMean) / (betweenMean + (typicalSize - 1) * withinMean);
  return computed({ share: Math.max(0, estimate), estimate, clusters: k, n });
}

/** Sums around `origin`, and squares around the mean of each cluster, in one pass (Welford). */
function sumByCluster(values: ArrayLike<number>, clusters: ArrayLike<number>, origin: number) {
  const byCode = new Map<number, ClusterSum>();
  let isConstant = true;
  for (let row = 0; row < values.length; row += 1) {
    // In range: both arrays are of one length.
    const value = values[row]!;
    if (!Number.isFinite(value)) {
      throw new ArgumentError("betweenGroupShare: values must be finite numbers; leave missing ones out");
    }
    const code = clusters[row]!;
    let cluster = byCode.get(code);
    if (cluster === undefined) {
      cluster = { n: 0, sum: 0, squares: 0 };
      byCode.set(code, cluster);
    }
    if (value !== origin) isConstant = false;
    const deviation = value - origin;
    const before = cluster.n === 0 ? deviation : cluster.sum / cluster.n;
    cluster.n += 1;
    cluster.sum += deviation;
    cluster.squares += (deviation - before) * (deviation - cluster.sum / cluster.n);
  }
  return { sums: [...byCode.values()], isConstant };
}
