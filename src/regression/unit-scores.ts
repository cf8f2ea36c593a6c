import type { SmallSample } from "../survival/few-clusters.ts";
import type { Clusters } from "../survival/observations.ts";
import { independentUnits, type Units } from "../survival/units.ts";
import { scoreShares } from "./cox-influence.ts";
import type { CoxPoint } from "./cox-likelihood.ts";
import { scoresOverTheRest } from "./cox-over-the-rest.ts";
import type { CoxRows } from "./cox-rows.ts";
import { crossedUnits, secondUnits } from "./two-way-units.ts";
import { type UnitSums, unitSums } from "./unit-sums.ts";

/** One way in which rows belong together, set up for all that is summed over it. */
export interface UnitWay {
  readonly units: Units;
  readonly sums: UnitSums;
}

/** One way; or for two ways of clustering the first, the second, and what shares both. */
export type UnitWays = readonly [UnitWay] | readonly [UnitWay, UnitWay, UnitWay];

export function unitWays(
  rows: CoxRows,
  isClustered: boolean,
  smallSample: SmallSample,
  second?: Clusters,
): UnitWays {
  // In the order of the units where each is corrected by its own rows.
  const order = smallSample === "shares" ? "units" : "any";
  const way = (units: Units): UnitWay => ({ units, sums: unitSums(rows, units, order) });
  const first = independentUnits(rows.observations, isClustered);
  if (!isClustered || second === undefined) return [way(first)];
  const other = secondUnits(second, first, rows.observations.rows);
  return [way(first), way(other), way(crossedUnits(first, other))];
}

/** Summed scores of the units of one way. */
export interface UnitScores {
  readonly sums: UnitSums;
  /** By column: each unit's score, as the correction for few clusters asks. */
  readonly scores: readonly Float64Array[];
  /** What its square is multiplied by. */
  readonly factor: number;
  /** Where scores were corrected for their own part: degrees of freedom of a number by how it moves with the score. */
  readonly freedom?: (byScore: readonly number[]) => number;
}

/** The scores of each way; a column's shares are made once for all ways, and let go before the next. */
export function unitScores(
  rows: CoxRows,
  point: CoxPoint,
  values: readonly Float64Array[],
  ways: UnitWays,
  smallSample: SmallSample,
): UnitScores[] {
  const byColumn = values.map((column, j) => {
    const shares = scoreShares(rows, point, column, j);
    return ways.map(({ sums }) => sums.of(shares));
  });
  return ways.map(({ units, sums }, way) => {
    const scores = byColumn.map((column) => column[way]!);
    const { seen } = sums;
    return {
      sums,
      ...(smallSample === "shares" ? scoresOverTheRest(rows, point, values, scores, units) : { scores }),
      factor: smallSample === "clusters" && seen > 1 ? seen / (seen - 1) : 1,
    };
  });
}
