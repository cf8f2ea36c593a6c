import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { normalTwoSided } from "../numeric/normal.ts";
import type { CountsByTime } from "./counts.ts";
import { logRankScore } from "./log-rank-score.ts";
import {
  groupTotals,
  type LogRankOptions,
  noSpread,
  nothingToCompare,
  wantedCauses,
} from "./log-rank-test.ts";
import type { LogRankWeighting } from "./log-rank-weighting.ts";
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
  };
  readonly groups: LogRankTest["groups"];
  /** Above 0: more events than expected towards the high end of the scale. */
  readonly z: number;
  readonly p: number;
}

/**
 * Whether the hazard of an event rises or falls along ordered groups.
 *
 * z = Σ a U / √(aᵀ V a) with the log-rank score U, its covariance V and the groups' scores a. Conventions as in
 * `logRankTest`; only the spacing of the scores matters, not their origin or unit.
 *
 * Source: Tarone 1975; Klein and Moeschberger 2003, section 7.4.
 */
export function logRankTrend(counts: CountsByTime, options: TrendOptions = {}): Answer<LogRankTrend> {
  const {
    event = counts.causes,
    weighting = "equal",
    scores = counts.groups.map((_, at) => at + 1),
  } = options;
  const wanted = wantedCauses("logRankTrend", counts, event, weighting);
  requireScores(scores, counts.groups.length);
  const total = logRankScore(counts, wanted, weighting);
  const refusal = nothingToCompare(total);
  if (refusal !== undefined) return refusal;
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
  return computed({
    kind: "logRankTrend",
    settings: { event: [...event], weighting, stratified: counts.strata.length > 1, scores: [...scores] },
    groups: groupTotals(counts, total),
    z,
    p: normalTwoSided(z),
  });
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
