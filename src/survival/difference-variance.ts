import { type NotComputed, notComputed } from "../base/answer.ts";
import type { CountsByTime } from "./counts.ts";
import type { EventRoles } from "./event-roles.ts";
import type { SmallSample } from "./few-clusters.ts";
import { addInfluence, influenceAt, type PathSteps } from "./influence.ts";
import type { Observations } from "./observations.ts";
import { overTheRest } from "./over-the-rest.ts";
import { type RiskSteps, stepsUpTo } from "./risk-steps.ts";
import { type SharedOut, sharesFreedom } from "./shares-freedom.ts";
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
      /** Of a variance widened by shares. */
      readonly freedom?: number;
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
    return {
      variance: ofIndependentRows(sides[0], tick) + ofIndependentRows(sides[1], tick),
      clusters: null,
    };
  }
  if (observations === undefined) {
    return notComputed(
      "sampling-weights",
      "the variance of weighted estimates needs rows; counts by time do not give it",
    );
  }
  return overUnits(comparison, observations, tick, clustered ? smallSample : "none", clustered);
}

function ofIndependentRows({ path }: Side, tick: number): number {
  return path.path.variance[stepsUpTo(path.time, tick) - 1] ?? 0;
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
  const shared: SharedOut[] = [];
  ([1, -1] as const).forEach((sign, at) => {
    const side = sides[at] ?? sides[0];
    const group = pair[at] ?? 0;
    let own: Float64Array = new Float64Array(units.count);
    addInfluence(own, observations, group, roles, side.path, influenceAt(side.path, tick), units);
    if (smallSample === "shares") {
      const shares = unitShares(observations, units, group);
      shared.push({ shares, variance: ofIndependentRows(side, tick) });
      own = overTheRest(own, shares);
    }
    own.forEach((influence, unit) => {
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
    ...(smallSample === "shares" && { freedom: sharesFreedom(shared) }),
    clustersByGroup: [inGroup(pair[0]), inGroup(pair[1])],
  };
}
