import { type Answer, computed } from "../base/answer.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { fitColumns } from "./fit-columns.ts";
import { productSum } from "./linear-predictor.ts";
import { type LogisticPoint, logisticLikelihood } from "./logistic-likelihood.ts";
import { outcomeCounts, outcomeRefusal, ZERO_OR_ONE } from "./logistic-outcome.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { type OutcomeColumns, outcomeRows } from "./outcome-rows.ts";
import { type PenalisedFit, penalisedFit, penaltyRefusal } from "./penalised-fit.ts";
import { penalisedPoint, quadraticForms } from "./penalised-likelihood.ts";

export interface PenalisedLogisticOptions {
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

/** Coefficients are logarithms of odds ratios. `events` counts the rarer outcome. */
export interface PenalisedLogisticFit extends PenalisedFit {
  readonly kind: "penalisedLogistic";
  readonly settings: { readonly level: number };
}

const WHERE = "penalisedLogistic";

/**
 * How the odds of an outcome change with each term, where events are few or a column predicts the outcome without fault.
 *
 * Maximises the log-likelihood plus half the logarithm of the determinant of its information, which keeps every estimate
 * finite and takes away most of the bias of small samples. Limits and p come from the profile of the penalised likelihood,
 * the penalty being that of the whole model throughout; standard errors from the information without the penalty. Weights
 * and clusters are refused.
 *
 * Source: Firth 1993, Biometrika 80:27; Heinze and Schemper 2002, Statistics in Medicine 21:2409 (recalled, not read).
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * penalisedLogistic({ outcome: [1, 0, 1, 0, 1, 0] }, matrix); // odds ratio 49.0, 1.55 to 17,119
 */
export function penalisedLogistic(
  data: OutcomeColumns,
  matrix: ModelMatrix,
  options: PenalisedLogisticOptions = {},
): Answer<PenalisedLogisticFit> {
  const { level = 0.95 } = options;
  requireLevel(WHERE, level);
  const rows = outcomeRows(WHERE, data, matrix, ZERO_OR_ONE);
  const columns = fitColumns(WHERE, matrix, rows.places, true);
  const parameters = columns.names.length - 1;
  const refusal =
    penaltyRefusal(rows.weight !== undefined, rows.cluster !== undefined) ?? outcomeRefusal(rows, parameters);
  if (refusal !== undefined) return refusal;
  const { values } = columns;
  const { events, others } = outcomeCounts(rows);
  const evaluate = (at: ArrayLike<number>) => logisticLikelihood(values, rows.outcome, undefined, at);
  const fit = penalisedFit({
    matrix,
    columns,
    evaluate,
    penalised: (at) => {
      const point = evaluate(at);
      return penalisedPoint(point, (inverse) => penaltySlope(values, rows.outcome, point, inverse));
    },
    start: values.map((_, place) => (place === 0 ? Math.log(events / others) : 0)),
    level,
    rows: rows.outcome.length,
    events: Math.min(events, others),
    parameters,
  });
  return fit.computed ? computed({ ...fit, kind: "penalisedLogistic", settings: { level } }) : fit;
}

/** Σ leverage · (½ − chance) · column. */
function penaltySlope(
  values: readonly Float64Array[],
  outcome: Float64Array,
  { spread, residual }: LogisticPoint,
  inverse: readonly (readonly number[])[],
): number[] {
  const pull = quadraticForms(values, inverse, outcome.length);
  for (let row = 0; row < pull.length; row += 1) {
    // The residual is the outcome less the chance.
    pull[row]! *= spread[row]! * (0.5 - outcome[row]! + residual[row]!);
  }
  return values.map((column) => productSum(column, pull));
}
