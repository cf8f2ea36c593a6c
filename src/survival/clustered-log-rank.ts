import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { fUpper } from "../numeric/f-distribution.ts";
import { generalisedForm } from "../numeric/generalised-form.ts";
import { checkObservations } from "./check-observations.ts";
import { type ClusteredScore, clusteredScore } from "./clustered-score.ts";
import { countsByTime } from "./counts-by-time.ts";
import { eventIndexes, netRoles } from "./event-roles.ts";
import { FEW_CLUSTERS } from "./few-clusters.ts";
import type { LogRankOptions } from "./log-rank-test.ts";
import { requireWeighting } from "./log-rank-weighting.ts";
import type { ObservationColumns, Observations } from "./observations.ts";
import type { LogRankTest } from "./results.ts";
import { independentUnits, unitsSeen } from "./units.ts";

/**
 * Whether groups differ in the hazard of an event, where rows of one cluster (surgeon, patient) are not independent.
 *
 * The log-rank score, observed minus expected by group within strata, over its variance between clusters: the sum over
 * clusters of squared (and crossed) sums of each row's share of the score,
 *
 *   ψ = Σ over ticks of w (Z − n_g / n) (dN − Y d / n)
 *
 * with Z = 1 for the row's own group and w the tick's weight, taken as given. A cluster may hold rows of several groups and
 * strata. Below 30 clusters the statistic is referred to F on (q, clusters − q), for two groups the t on clusters − 1,
 * instead of chi-square on q. A group never at risk at an event takes no part.
 *
 * Source: Lee, Wei and Amato 1992; Lin and Wei 1989.
 *
 * @example
 * const rows = {
 *   exit: [1, 2, 3, 4, 5, 6, 7, 8],
 *   event: [1, 0, 1, 1, 0, 1, 0, 1],
 *   group: { codes: [0, 0, 0, 0, 1, 1, 1, 1], labels: ["a", "b"] },
 *   cluster: { codes: [0, 1, 2, 3, 0, 1, 2, 3], word: "surgeon" },
 *   timeUnit: TIME_UNITS.year,
 * };
 * clusteredLogRank(rows); // chi-square 3.28 over 4 clusters, so t on 3: p 0.168
 */
export function clusteredLogRank(
  columns: ObservationColumns,
  options: LogRankOptions = {},
): Answer<LogRankTest> {
  const observations = checkObservations(columns);
  const { event = observations.causes, weighting = "equal" } = options;
  const parts = clusteredParts("clusteredLogRank", observations, { event, weighting });
  if ("code" in parts) return parts;
  const { groups, score, covariance, clusters, stratified, word } = parts;
  const { value: chiSquare, rank } = generalisedForm(score, covariance);
  if (rank === 0) return noSpreadBetween();
  const few = clusters < FEW_CLUSTERS;
  const freedom = clusters - rank;
  return computed({
    kind: "logRankTest",
    settings: {
      event: [...event],
      weighting,
      stratified,
      clusteredBy: word,
      clusters,
      degreesOfFreedomOfT: few ? freedom : null,
    },
    groups,
    chiSquare,
    degreesOfFreedom: rank,
    p: few
      ? fUpper((chiSquare * freedom) / (rank * (clusters - 1)), rank, freedom)
      : chiSquareUpper(chiSquare, rank),
  });
}

export interface ClusteredParts extends ClusteredScore {
  /** Clusters with rows in a group that takes part. */
  readonly clusters: number;
  readonly stratified: boolean;
  /** Word of the cluster. */
  readonly word: string;
}

/** What every clustered test of the family is made of, or why there is none. */
export function clusteredParts(
  where: string,
  observations: Observations,
  { event, weighting }: Required<LogRankOptions>,
): ClusteredParts | NotComputed {
  const { cluster, causes } = observations;
  if (cluster === undefined) {
    throw new ArgumentError(`${where}: the observations name no cluster; give one, or use logRankTest`);
  }
  requireWeighting(where, weighting);
  const roles = netRoles(causes, eventIndexes(where, causes, event));
  const counts = countsByTime(observations);
  const score = clusteredScore(observations, counts, roles.wanted, weighting);
  const compared = score.groups.flatMap(({ expected }, group) => (expected > 0 ? [group] : []));
  if (score.groups.every(({ observed }) => observed === 0)) {
    return notComputed("no-events", "no event was seen in any group");
  }
  if (compared.length < 2) {
    return notComputed("nothing-to-compare", "fewer than two groups were under observation at an event");
  }
  const clusters = unitsSeen(observations, independentUnits(observations, true), compared);
  if (clusters < compared.length) {
    return notComputed("too-few-clusters", "fewer clusters than groups: too few to compare them");
  }
  return { ...score, clusters, stratified: counts.strata.length > 1, word: cluster.word };
}

export function noSpreadBetween(): NotComputed {
  return notComputed("no-spread", "the clusters leave no independent variation between the groups");
}
