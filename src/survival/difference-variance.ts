import { type NotComputed, notComputed } from "../base/answer.ts";
import type { CountsByTime } from "./counts.ts";
import type { EventRoles } from "./event-roles.ts";
import type { SmallSample } from "./few-clusters.ts";
import { addInfluence, influenceAt, type PathSteps } from "./influence.ts";
import type { Observations } from "./observations.ts";
import { overTheRest } from "./over-the-rest.ts";
import { type RiskSteps, stepsUpTo } from "./risk-steps.ts";
import { independentUnits, unitShares, unitsSeen } from "./units.ts";

/** Two groups of one table, with what plays which part. */
export interface Comparison {
  readonly observations: Observations | undefined;
  readonly counts: CountsByTime;
  readonly roles: EventRoles;
  readonly pair: readonly [number, number];
  readonly sides: readonly [Side, Side];
}

export interface Side {
  readonly steps: RiskSteps;
  readonly path: PathSteps;
}

export type DifferenceVariance =
  | NotComputed
  | {
      readonly variance: number;
      readonly clusters: number | null;
      readonly clustersByGroup?: readonly [number, number];
    };

/** Variance of the difference at a tick: over clusters, as two variances added, or why there is none. */
export function differenceVariance(
  comparison: Comparison,
  tick: number,
  { clustered, smallSample }: { readonly clustered: boolean; readonly smallSample: SmallSample },
): DifferenceVariance {
  const { observations, counts, sides } = comparison;
  if (clustered && observations?.cluster === undefined) {
    return notComputed(
      "no-clusters-in-counts",
      "clustered variance needs rows with clusters; counts by time hold none",
    );
  }
  if (!clustered && counts.weightKind !== "sampling") {
    const own = (side: Side) => side.path.path.variance[stepsUpTo(side.path.time, tick) - 1] ?? 0;
    return { variance: own(sides[0]) + own(sides[1]), clusters: null };
  }
  if (observations === undefined) {
    return notComputed(
      "sampling-weights",
      "the variance of weighted estimates needs rows; counts by time do not give it",
    );
  }
  return overUnits(comparison, observations, tick, clustered ? smallSample : "none", clustered);
}

/** Influence of each unit on the difference, squared and added. */
function overUnits(
  { sides, pair, roles }: Comparison,
  observations: Observations,
  tick: number,
  smallSample: SmallSample,
  clustered: boolean,
): DifferenceVariance {
  const units = independentUnits(observations, clustered);
  const sums = new Float64Array(units.count);
  ([1, -1] as const).forEach((sign, at) => {
    const { path } = sides[at] ?? sides[0];
    const group = pair[at] ?? 0;
    const own = new Float64Array(units.count);
    addInfluence(own, observations, group, roles, path, influenceAt(path, tick), units);
    const widened = smallSample === "shares" ? overTheRest(own, unitShares(observations, units, group)) : own;
    widened.forEach((influence, unit) => {
      sums[unit]! += sign * influence;
    });
  });
  const squares = sums.reduce((sum, value) => sum + value * value, 0);
  if (!clustered) return { variance: squares, clusters: null };
  const clusters = unitsSeen(observations, units, pair);
  const widening = smallSample === "clusters" && clusters > 1 ? clusters / (clusters - 1) : 1;
  const inGroup = (group: number) => unitsSeen(observations, units, [group]);
  return {
    variance: squares * widening,
    clusters,
    clustersByGroup: [inGroup(pair[0]), inGroup(pair[1])],
  };
}
