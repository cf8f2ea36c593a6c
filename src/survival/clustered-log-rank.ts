import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { fUpper } from "../numeric/f-distribution.ts";
import { generalisedForm } from "../numeric/generalised-form.ts";
import { checkObservations } from "./check-observations.ts";
import { clusteredScore } from "./clustered-score.ts";
import { countsByTime } from "./counts-by-time.ts";
import { eventIndexes, netRoles } from "./event-roles.ts";
import { FEW_CLUSTERS } from "./few-clusters.ts";
import type { ObservationColumns } from "./observations.ts";
import type { LogRankTest } from "./results.ts";
import { independentUnits, unitsSeen } from "./units.ts";

export interface ClusteredLogRankOptions {
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
}

/**
 * Whether groups differ in the hazard of an event, where rows of one cluster (surgeon, patient) are not independent.
 *
 * The log-rank score, observed minus expected by group within strata, over its variance between clusters: the sum over
 * clusters of squared (and crossed) sums of each row's share of the score,
 *
 *   ψ = Σ over ticks of (Z − n_g / n) (dN − Y d / n)
 *
 * with Z = 1 for the row's own group. A cluster may hold rows of several groups and strata. Below 30 clusters the
 * statistic is referred to F on (q, clusters − q), for two groups the t on clusters − 1, instead of chi-square on q. A
 * group never at risk at an event takes no part.
 *
 * Source: Lee, Wei and Amato 1992; Lin and Wei 1989.
 */
export function clusteredLogRank(
  columns: ObservationColumns,
  options: ClusteredLogRankOptions = {},
): Answer<LogRankTest> {
  const observations = checkObservations(columns);
  if (observations.cluster === undefined) {
    throw new ArgumentError(
      "clusteredLogRank: the observations name no cluster; give one, or use logRankTest",
    );
  }
  const { event = observations.causes } = options;
  const roles = netRoles(observations.causes, eventIndexes("clusteredLogRank", observations.causes, event));
  const counts = countsByTime(observations);
  const { groups, covariance } = clusteredScore(observations, counts, roles.wanted);
  const compared = groups.flatMap(({ expected }, group) => (expected > 0 ? [group] : []));
  if (groups.every(({ observed }) => observed === 0)) {
    return notComputed("no-events", "no event was seen in any group");
  }
  if (compared.length < 2) {
    return notComputed("nothing-to-compare", "fewer than two groups were under observation at an event");
  }
  const clusters = unitsSeen(observations, independentUnits(observations, true), compared);
  if (clusters < compared.length) {
    return notComputed("too-few-clusters", `${clusters} clusters cannot compare ${compared.length} groups`);
  }
  const { value: chiSquare, rank } = generalisedForm(
    groups.map(({ observed, expected }) => observed - expected),
    covariance,
  );
  if (rank === 0) {
    return notComputed("no-spread", "the clusters leave no independent variation between the groups");
  }
  const few = clusters < FEW_CLUSTERS;
  const freedom = clusters - rank;
  return computed({
    kind: "logRankTest",
    settings: {
      event: [...event],
      stratified: counts.strata.length > 1,
      clusteredBy: observations.cluster.word,
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
