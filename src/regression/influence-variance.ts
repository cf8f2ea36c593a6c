import type { Clusters } from "../survival/observations.ts";
import { independentUnits, type Units } from "../survival/units.ts";
import { sumsOfUnits } from "./cox-influence.ts";
import type { CoxRows } from "./cox-rows.ts";
import { crossedUnits, secondUnits } from "./two-way-units.ts";

/** Variance of one number from each row's influence on it, between how many units. */
export interface InfluenceVariance {
  readonly variance: number;
  readonly units: number;
}

/** Σ over units of squared influence; two ways give first + second − both, and the larger of the two where that is not above 0. */
export function influenceVariance(
  rows: CoxRows,
  shares: Float64Array,
  clustered: boolean,
  second?: Clusters,
): InfluenceVariance {
  const over = (units: Units): InfluenceVariance => {
    const { sums, seen } = sumsOfUnits(rows, [shares], units);
    return { variance: sums[0]!.reduce((sum, own) => sum + own * own, 0), units: seen };
  };
  const first = independentUnits(rows.observations, clustered);
  if (!clustered || second === undefined) return over(first);
  const other = secondUnits(second, first, rows.observations.rows);
  const [one, two, both] = [over(first), over(other), over(crossedUnits(first, other))];
  const variance = one.variance + two.variance - both.variance;
  return {
    variance: variance > 0 ? variance : Math.max(one.variance, two.variance),
    units: Math.min(one.units, two.units),
  };
}
