/** One group of an estimate: the share of it that each unit holds, and the variance if its rows were independent. */
export interface SharedOut {
  readonly shares: ArrayLike<number>;
  readonly variance: number;
}

/**
 * Degrees of freedom of a variance summed over clusters after `overTheRest`: how many clusters it is as good as.
 *
 * Each cluster brings the share s of its group, and the sums of a group add up to nothing, so if rows were independent
 * the corrected sums would vary together as V s/(1 − s)² within a cluster, less V r r′ with r = s/(1 − s), between all.
 * With G the matrix of this, the groups added, the sum of squares has the mean tr G and the variance 2 tr G², as
 * tr(G)²/tr(G²) degrees of freedom have. k equal clusters leave k − 1; a group that rests on four of 24 clusters little over 3.
 *
 * Sources: Satterthwaite 1946; Bell and McCaffrey 2002, who proposed it for regression.
 */
export function sharesFreedom(groups: readonly SharedOut[]): number {
  const units = groups.reduce((most, { shares }) => Math.max(most, shares.length), 0);
  // Between clusters of one group G holds −a a′, with a = r √V; the rest of its diagonal is what a cluster has by itself.
  const parts = groups.map(({ shares, variance }) => odds(shares, Math.sqrt(variance)));
  let [trace, squares] = [0, 0];
  for (let unit = 0; unit < units; unit += 1) {
    let [own, between] = [0, 0];
    parts.forEach((part, at) => {
      const a = part[unit] ?? 0;
      const share = groups[at]?.shares[unit] ?? 0;
      between += a * a;
      // V s/(1 − s)² − a², which is V s/(1 − s), with a = √V s/(1 − s).
      if (a > 0) own += (a * a * (1 - share)) / share;
    });
    trace += own;
    squares += own * own - between * between;
  }
  for (const first of parts) {
    for (const second of parts) {
      const product = sumOfProducts(first, second);
      squares += product * product;
    }
  }
  return squares > 0 ? (trace * trace) / squares : 0;
}

/** A cluster that is its whole group has no influence: see `overTheRest`. */
function odds(shares: ArrayLike<number>, factor: number): Float64Array {
  return Float64Array.from(shares, (share) => (share < 1 ? (factor * share) / (1 - share) : 0));
}

function sumOfProducts(first: Float64Array, second: Float64Array): number {
  return first.reduce((sum, one, at) => sum + one * (second[at] ?? 0), 0);
}
