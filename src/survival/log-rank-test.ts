import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { generalisedForm } from "../numeric/generalised-form.ts";
import type { CountsByTime } from "./counts.ts";
import { eventIndexes, netRoles } from "./event-roles.ts";
import { type LogRankScore, logRankScore } from "./log-rank-score.ts";
import { type LogRankWeighting, requireWeighting } from "./log-rank-weighting.ts";
import type { LogRankTest } from "./results.ts";

export interface LogRankOptions {
  /** Names of the causes that count as the event; the others end follow-up like a censoring. Default all. */
  readonly event?: readonly string[];
  /** How much each event tick counts. Default "equal", the log-rank test itself. */
  readonly weighting?: LogRankWeighting;
}

/**
 * Whether groups differ in the hazard of an event, over all follow-up and within strata.
 *
 * At risk is (entry, exit], so delayed entry is allowed. Variance: hypergeometric, that of the margins at each event
 * tick. A group never at risk at an event takes no part; degrees of freedom are the rank of the covariance, which is
 * groups minus one unless some groups were never seen together. Observed and expected are not weighted by time. Rows
 * count as independent: with clusters use `clusteredLogRank`. Where a group expects fewer than 5 events the chi-square is
 * not to be trusted (`groupsExpectingTooFew`): compare rates exactly.
 *
 * @throws ArgumentError for sampling weights, whose variance needs rows.
 *
 * Source: Mantel 1966; Peto and Peto 1972; Tarone and Ware 1977; Fleming and Harrington 1991.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 3, 4], event: [1, 1, 1, 0], group: { codes: [0, 0, 1, 1], labels: ["a", "b"] } });
 * logRankTest(counts); // chi-square 2.88 on 1 degree of freedom
 */
export function logRankTest(counts: CountsByTime, options: LogRankOptions = {}): Answer<LogRankTest> {
  const { event = counts.causes, weighting = "equal" } = options;
  const wanted = wantedCauses("logRankTest", counts, event, weighting);
  const score = logRankScore(counts, wanted, weighting);
  const refusal = nothingToCompare(score);
  if (refusal !== undefined) return refusal;
  const { value, rank } = generalisedForm(score.score, score.covariance);
  if (rank === 0) return noSpread();
  return computed({
    kind: "logRankTest",
    settings: {
      event: [...event],
      weighting,
      stratified: counts.strata.length > 1,
      clusteredBy: null,
      clusters: null,
      degreesOfFreedomOfT: null,
    },
    groups: groupTotals(counts, score),
    chiSquare: value,
    degreesOfFreedom: rank,
    p: chiSquareUpper(value, rank),
  });
}

/** Which causes count as the event; refuses what no test of the family can take. */
export function wantedCauses(
  where: string,
  counts: CountsByTime,
  event: readonly string[],
  weighting: LogRankWeighting,
): readonly boolean[] {
  requireWeighting(where, weighting);
  const wanted = eventIndexes(where, counts.causes, event);
  if (counts.weightKind === "sampling") {
    throw new ArgumentError(
      `${where}: sampling weights have no variance from counts; use clusteredLogRank on the rows`,
    );
  }
  return netRoles(counts.causes, wanted).wanted;
}

/** Why no test can be made, or undefined where one can. */
export function nothingToCompare({ observed, expected }: LogRankScore) {
  if (observed.every((events) => events === 0))
    return notComputed("no-events", "no event was seen in any group");
  if (expected.filter((events) => events > 0).length >= 2) return undefined;
  return notComputed("nothing-to-compare", "fewer than two groups were under observation at an event");
}

export function noSpread() {
  return notComputed("no-spread", "at every event only one group was at risk, or all at risk had it");
}

export function groupTotals(
  counts: CountsByTime,
  { observed, expected }: LogRankScore,
): LogRankTest["groups"] {
  return counts.groups.map((group, at) => ({
    group,
    cases: counts.cells.reduce((sum, cell) => sum + (cell.group === at ? cell.cases : 0), 0),
    observed: observed[at] ?? 0,
    expected: expected[at] ?? 0,
  }));
}
