import { type Answer, computed, notComputed } from "../base/answer.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import { type CoxMaximum, coxMaximum } from "./cox-maximum.ts";
import { insideProfile, profileGap, profileLimit } from "./cox-profile.ts";
import type { SeparatedColumn } from "./cox-result.ts";
import type { CoxRows } from "./cox-rows.ts";
import { NO_WEIGHTED_LIKELIHOOD } from "./weighted-likelihood.ts";

/** What the likelihood says of a column whose coefficient runs away: a test, and the one limit that exists. */
export function separatedColumn(
  rows: CoxRows,
  rule: SameDayRule,
  found: CoxMaximum,
  column: number,
  sign: 1 | -1,
  level: number,
): SeparatedColumn {
  const ratioTends = sign > 0 ? "up" : "down";
  if (rows.observations.weight?.kind === "sampling") {
    return { ratioTends, likelihoodRatio: NO_WEIGHTED_LIKELIHOOD, limit: NO_WEIGHTED_LIKELIHOOD };
  }
  const without = coxMaximum(
    rows,
    rule,
    found.tried.filter((other) => other !== column),
  );
  const chiSquare = Math.max(0, 2 * (found.point.logLikelihood - without.point.logLikelihood));
  return {
    ratioTends,
    likelihoodRatio: computed({
      chiSquare,
      degreesOfFreedom: 1,
      p: chiSquareUpper(chiSquare, 1),
      variance: "model" as const,
      degreesBeneath: null,
    }),
    limit: oneSidedLimit(rows, rule, found, column, sign, level),
  };
}

function oneSidedLimit(
  rows: CoxRows,
  rule: SameDayRule,
  found: CoxMaximum,
  column: number,
  sign: 1 | -1,
  level: number,
): Answer<{ readonly side: "lower" | "upper"; readonly ratio: number }> {
  const gap = profileGap(rows, rule, found, column);
  const { scale } = rows.columns[column]!;
  // One unit of the caller's column; small columns move by a tenth of their spread at least.
  const step = Math.max(scale, 0.1);
  const inside = insideProfile(gap, sign, step, level);
  const limit = inside === undefined ? undefined : profileLimit(gap, inside, -sign * step, level);
  const ratio = limit === undefined ? Number.NaN : Math.exp(limit / scale);
  if (!Number.isFinite(ratio)) {
    return notComputed("no-profile-limit", "the likelihood never falls far enough to give a limit");
  }
  return computed({ side: sign > 0 ? ("lower" as const) : ("upper" as const), ratio });
}
