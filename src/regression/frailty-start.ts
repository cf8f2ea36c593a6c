import { martingaleShares } from "./cox-influence.ts";
import { type CoxMaximum, sumsOf } from "./cox-maximum.ts";
import type { CoxRows } from "./cox-rows.ts";
import type { FrailtyClusters } from "./frailty-clusters.ts";

/** Events that each cluster would have by the plain fit. */
export function expectedEvents(
  rows: CoxRows,
  plain: CoxMaximum,
  { of, events }: FrailtyClusters,
): Float64Array {
  const expected = Float64Array.from(events);
  const point = sumsOf(plain.point);
  if (point === undefined) return expected;
  martingaleShares(rows, point).forEach((share, i) => {
    expected[of[i]!]! -= share;
  });
  return expected;
}

/** ½ Σ ((events − expected)² − events): how the likelihood begins to move as the variance leaves 0. */
export function slopeAtZero({ events }: FrailtyClusters, expected: Float64Array): number {
  return expected.reduce((total, own, cluster) => {
    const excess = events[cluster]! - own;
    return total + (excess * excess - events[cluster]!) / 2;
  }, 0);
}
