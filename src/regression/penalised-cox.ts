import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { coxLikelihood } from "./cox-likelihood.ts";
import { coxRows } from "./cox-rows.ts";
import { fitColumnsOf } from "./fit-columns.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { coxPenaltySlope } from "./penalised-cox-slope.ts";
import { type PenalisedFit, penalisedFit, penaltyRefusal, TOO_FEW_EVENTS } from "./penalised-fit.ts";
import { penalisedPoint } from "./penalised-likelihood.ts";

/** How events on one tick share their risk set in a penalised fit. */
export const PENALISED_SAME_DAY_RULES = ["efron", "breslow"] as const;
export type PenalisedSameDayRule = (typeof PENALISED_SAME_DAY_RULES)[number];

export interface PenalisedCoxOptions {
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
  /** How events on one tick share their risk set. Default "efron". */
  readonly sameDay?: PenalisedSameDayRule;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Terms whose limits and p are wanted; every limit is a search over whole fits. Default all. */
  readonly terms?: readonly string[];
}

/** Coefficients are logarithms of hazard ratios. */
export interface PenalisedCoxFit extends PenalisedFit {
  readonly kind: "penalisedCox";
  readonly settings: {
    readonly level: number;
    readonly sameDay: PenalisedSameDayRule;
    readonly event: readonly string[];
    readonly stratified: boolean;
    readonly delayedEntry: boolean;
  };
}

const WHERE = "penalisedCox";

/**
 * By what factor the hazard goes up with each column, where events are few or all of them lie on one side of a column.
 *
 * Maximises the log partial likelihood plus half the logarithm of the determinant of its information. Limits and p come from
 * the profile of the penalised likelihood, the penalty being that of the whole model throughout; standard errors from the
 * information without the penalty. Strata and delayed entry, (entry, exit], as in `coxRegression`. Weights and clusters are
 * refused. Cost: rows × columns² a step.
 *
 * Source: Heinze and Schemper 2001, Biometrics 57:114 (recalled, not read).
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * penalisedCox(rows, matrix); // ratio 2.137, 0.275 to 24.0
 */
export function penalisedCox(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  options: PenalisedCoxOptions = {},
): Answer<PenalisedCoxFit> {
  const { level = 0.95, sameDay = "efron" } = options;
  requireLevel(WHERE, level);
  if (!PENALISED_SAME_DAY_RULES.includes(sameDay)) {
    throw new ArgumentError(
      `${WHERE}: sameDay must be ${PENALISED_SAME_DAY_RULES.join(" or ")}; received ${sameDay}`,
    );
  }
  const rows = coxRows(WHERE, observations, matrix, options.event);
  const columns = fitColumnsOf(rows.columns, rows.count, false);
  const events = rows.eventRows.length;
  const parameters = columns.names.length;
  const { weight, cluster, caseId } = rows.observations;
  const refusal = penaltyRefusal(weight !== undefined, cluster !== undefined || caseId !== undefined);
  if (refusal !== undefined) return refusal;
  if (events === 0) return notComputed("no-events", "nobody had the event, so nothing changes its hazard");
  if (events < parameters) return TOO_FEW_EVENTS;
  const { values } = columns;
  const evaluate = (at: ArrayLike<number>) => coxLikelihood(rows, sameDay, values, at);
  const fit = penalisedFit({
    matrix,
    columns,
    evaluate,
    penalised: (at) => {
      const point = evaluate(at);
      return penalisedPoint(point, (inverse) => coxPenaltySlope(rows, values, point, inverse));
    },
    start: values.map(() => 0),
    level,
    rows: rows.count,
    events,
    parameters,
    terms: options.terms,
  });
  if (!fit.computed) return fit;
  const settings = {
    level,
    sameDay,
    event: rows.event,
    stratified: rows.observations.stratum.labels.length > 1,
    delayedEntry: rows.observations.entry !== undefined,
  };
  return computed({ ...fit, kind: "penalisedCox", settings });
}
