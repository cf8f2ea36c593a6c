import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { symmetricInverse } from "../numeric/symmetric-matrix.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { refusalOf } from "./cox-columns.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import { coxMaximum } from "./cox-maximum.ts";
import { profileGap, profileLimit } from "./cox-profile.ts";
import { coxRows } from "./cox-rows.ts";
import type { ModelMatrix } from "./model-matrix.ts";

export interface ProfileLimitsOptions {
  /** Columns asked about. Default every column of the model. */
  readonly columns?: readonly string[];
  /** Causes counted as events. Default all. */
  readonly event?: readonly string[];
  /** Default "efron". */
  readonly sameDay?: SameDayRule;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

/** A ratio with the limits at which the likelihood, all else fitted again, has fallen by the chi-square of the level. */
export interface ProfiledRatio {
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
  /** Likelihood-ratio test of a ratio of 1. */
  readonly chiSquare: number;
  readonly p: number;
}

export interface ProfileLimits {
  readonly kind: "coxProfileLimits";
  readonly settings: { readonly level: number; readonly sameDay: SameDayRule };
  readonly columns: readonly { readonly column: string; readonly profile: Answer<ProfiledRatio> }[];
}

/**
 * Limits of hazard ratios by the likelihood itself, which hold where few events make Wald limits lopsided.
 *
 * Every point of a profile fits the other columns again. Rows must be independent: sampling weights and clusters are refused,
 * because the likelihood knows nothing of them. A separated column has one limit only: see `coxRegression`.
 *
 * @throws ArgumentError for sampling weights, clusters, weights with the rule "exact", and a column that the model lacks.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * coxProfileLimits(rows, matrix); // ratio 2.562, 0.239 to 56.1
 */
export function coxProfileLimits(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  options: ProfileLimitsOptions = {},
): Answer<ProfileLimits> {
  const { sameDay = "efron", level = 0.95 } = options;
  requireLevel("coxProfileLimits", level);
  const rows = coxRows("coxProfileLimits", observations, matrix, options.event);
  const { weight, cluster } = rows.observations;
  if (cluster !== undefined || weight?.kind === "sampling" || (weight !== undefined && sameDay === "exact")) {
    throw new ArgumentError(
      'coxProfileLimits: rows must be independent and unweighted (copies are allowed, but with "exact"); use the limits of coxRegression',
    );
  }
  const names = rows.columns.map(({ name }) => name);
  const asked = (options.columns ?? names).map((name) => {
    const column = names.indexOf(name);
    if (column < 0) throw new ArgumentError(`coxProfileLimits: the model has no column "${name}"`);
    return column;
  });
  if (rows.eventRows.length === 0) return notComputed("no-events", "no event was seen");
  const found = coxMaximum(rows, sameDay, [...names.keys()]);
  const inverse = symmetricInverse(found.point.information);
  if (!found.report.converged || inverse === undefined) {
    return notComputed("not-converged", "the iteration did not find the highest likelihood");
  }
  const profileOf = (column: number): Answer<ProfiledRatio> => {
    const refused = found.notEstimable.get(column);
    if (refused !== undefined) return refusalOf(rows, refused);
    const at = found.estimated.indexOf(column);
    const [estimate, step] = [found.beta[at]!, 2 * Math.sqrt(inverse[at]![at]!)];
    const gap = profileGap(rows, sameDay, found, column);
    const limits = [-step, step].map((reach) => profileLimit(gap, estimate, reach, level));
    const { scale } = rows.columns[column]!;
    const [ratio, lower, upper] = [estimate, ...limits].map((value) =>
      Math.exp((value ?? Number.NaN) / scale),
    );
    if (![ratio, lower, upper].every(Number.isFinite)) {
      return notComputed("no-profile-limit", "the likelihood never falls far enough to give a limit");
    }
    const chiSquare = Math.max(0, gap(0));
    return computed({
      ratio: ratio!,
      lower: lower!,
      upper: upper!,
      chiSquare,
      p: chiSquareUpper(chiSquare, 1),
    });
  };
  return computed({
    kind: "coxProfileLimits",
    settings: { level, sameDay },
    columns: asked.map((column) => ({ column: names[column]!, profile: profileOf(column) })),
  });
}
