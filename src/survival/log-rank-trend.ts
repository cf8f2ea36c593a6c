import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { checkObservations } from "./check-observations.ts";
import { clusteredParts } from "./clustered-log-rank.ts";
import type { CountsByTime } from "./counts.ts";
import { countsByTime } from "./counts-by-time.ts";
import { normalReference, referenceFor } from "./few-clusters.ts";
import { isCounts } from "./is-counts.ts";
import { logRankScore } from "./log-rank-score.ts";
import {
  groupTotals,
  type LogRankOptions,
  noSpread,
  nothingToCompare,
  wantedCauses,
} from "./log-rank-test.ts";
import type { LogRankWeighting } from "./log-rank-weighting.ts";
import type { ObservationColumns } from "./observations.ts";
import type { LogRankTest } from "./results.ts";

export interface TrendOptions extends LogRankOptions {
  /** Place of each group on the scale along which a trend is sought. Default 1, 2, 3, … in the order of the groups. */
  readonly scores?: readonly number[];
}

export interface LogRankTrend {
  readonly kind: "logRankTrend";
  readonly settings: {
    readonly event: readonly string[];
    readonly weighting: LogRankWeighting;
    readonly stratified: boolean;
    readonly scores: readonly number[];
    readonly clusteredBy: string | null;
    readonly clusters: number | null;
    /** Degrees of freedom of the t used below 30 clusters; null means normal. */
    readonly degreesOfFreedom: number | null;
  };
  readonly groups: LogRankTest["groups"];
  /** Above 0: more events than expected towards the high end of the scale. */
  readonly z: number;
  readonly p: number;
}

/**
 * Whether the hazard of an event rises or falls along ordered groups.
 *
 * z = Σ a U / √(aᵀ V a) with the log-rank score U, its covariance V and the groups' scores a; only the spacing of the
 * scores matters, not their origin or unit. Conventions as in `logRankTest`; for rows with clusters as in
 * `clusteredLogRank`, with V over clusters and t on clusters − 1 below 30 of them.
 *
 * Source: Tarone 1975; Klein and Moeschberger 2003, section 7.4.
 *
 * @example
 * logRankTrend({
 *   exit: [1, 2, 3, 4, 5, 6],
 *   event: [1, 1, 1, 1, 0, 1],
 *   group: { codes: [0, 0, 1, 1, 2, 2], labels: ["low", "middle", "high"] },
 * }); // z −2.58, p 0.0098
 */
export function logRankTrend(
  data: ObservationColumns | CountsByTime,
  options: TrendOptions = {},
): Answer<LogRankTrend> {
  const { weighting = "equal" } = options;
  const labels = isCounts(data) ? data.groups : checkObservations(data).group.labels;
  const scores = options.scores ?? labels.map((_, at) => at + 1);
  requireScores(scores, labels.length);
  const total = partsOf(data, { ...options, weighting });
  if ("code" in total) return total;
  const { groups, event, clusters } = total;
  // Around their middle: scores far from 0 would lose the digits in which they differ.
  const middle = (Math.min(...scores) + Math.max(...scores)) / 2;
  const places = scores.map((score) => score - middle);
  const weighted = (row: readonly number[]) =>
    row.reduce((sum, value, at) => sum + value * (places[at] ?? 0), 0);
  const variance = weighted(total.covariance.map(weighted));

  if (total.covariance.every((row, at) => row[at] === 0)) return noSpread();
  const largest = total.covariance.reduce(
    (most, row, at) => Math.max(most, (row[at] ?? 0) * (places[at] ?? 0) * (places[at] ?? 0)),
    0,
  );
  if (!(variance > 1e-10 * largest)) {
    return notComputed("no-spread-of-scores", "the groups that can be compared share one score");
  }
  const z = weighted(total.score) / Math.sqrt(variance);
  // Two groups were seen in two clusters at least, so there is a reference.
  const reference = referenceFor(clusters, 0.95) ?? normalReference(0.95);
  return computed({
    kind: "logRankTrend",
    settings: {
      event: [...event],
      weighting,
      stratified: total.stratified,
      scores: [...scores],
      clusteredBy: total.word,
      clusters,
      degreesOfFreedom: reference.degreesOfFreedom,
    },
    groups,
    z,
    p: reference.p(z),
  });
}

interface TrendParts {
  readonly event: readonly string[];
  readonly groups: LogRankTest["groups"];
  readonly score: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly stratified: boolean;
  readonly clusters: number | null;
  readonly word: string | null;
}

/** Score and covariance over clusters where the rows have any, else from the margins. */
function partsOf(
  data: ObservationColumns | CountsByTime,
  { weighting, ...options }: TrendOptions & { readonly weighting: LogRankWeighting },
): TrendParts | NotComputed {
  if (!isCounts(data) && data.cluster !== undefined) {
    const observations = checkObservations(data);
    const { event = observations.causes } = options;
    const parts = clusteredParts("logRankTrend", observations, { event, weighting });
    return "code" in parts ? parts : { ...parts, event };
  }
  const counts = isCounts(data) ? data : countsByTime(data);
  const { event = counts.causes } = options;
  const total = logRankScore(counts, wantedCauses("logRankTrend", counts, event, weighting), weighting);
  return (
    nothingToCompare(total) ?? {
      ...total,
      event,
      groups: groupTotals(counts, total),
      stratified: counts.strata.length > 1,
      clusters: null,
      word: null,
    }
  );
}

function requireScores(scores: readonly number[], groups: number): void {
  if (scores.length !== groups || !scores.every(Number.isFinite)) {
    throw new ArgumentError(
      `logRankTrend: scores must hold one finite number for each of the ${groups} groups`,
    );
  }
  if (new Set(scores).size < 2)
    throw new ArgumentError("logRankTrend: scores must differ between at least two groups");
}
