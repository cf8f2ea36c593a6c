import { type Answer, computed, notComputed } from "../base/answer.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { studentTwoSided, studentUpperQuantile } from "../numeric/student-t.ts";
import type { Reference } from "../survival/few-clusters.ts";
import type { ModelTest } from "./cox-result.ts";
import { CONSTANT, fitColumns, inCallerUnits, turned } from "./fit-columns.ts";
import { describeFit, type FitDescription, NOTHING_OF_ITS_OWN, ONE_CLUSTER } from "./fit-description.ts";
import { leastSquares } from "./linear-least-squares.ts";
import type { ModelMatrix, RowsLost } from "./model-matrix.ts";
import { type OutcomeColumns, type OutcomeRows, outcomeRows } from "./outcome-rows.ts";
import {
  covariancesOfFit,
  referenceOf,
  type VarianceOptions,
  type VarianceSettings,
  varianceSettings,
} from "./variance-of-fit.ts";
import { waldTest } from "./wald-tests.ts";
import { NO_WEIGHTED_LIKELIHOOD } from "./weighted-likelihood.ts";

export interface LinearOptions extends VarianceOptions {
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

/** Coefficients are differences of the mean outcome. */
export interface LinearFit extends FitDescription {
  readonly kind: "linearRegression";
  readonly settings: VarianceSettings & {
    readonly level: number;
    /** Degrees of freedom of the t in use; null means normal, from 30 clusters up. */
    readonly degreesOfFreedom: number | null;
  };
  readonly rows: number;
  /** Columns with a coefficient, without the constant. */
  readonly parameters: number;
  readonly modelCovariance: readonly (readonly number[])[];
  /** Standard deviation of the outcome about the fit, on rows − parameters − 1 degrees of freedom. */
  readonly residualDeviation: number;
  /** Share of the outcome's variance that the terms explain. */
  readonly explained: number;
  /** Test that all coefficients but the constant are 0, for normal errors. */
  readonly likelihoodRatio: Answer<ModelTest>;
  readonly lost: readonly RowsLost[];
}

const WHERE = "linearRegression";

/**
 * How the mean of an outcome changes with each term.
 *
 * Least squares on centred and scaled columns, reported in the caller's units; columns that are constant or given by others
 * are named and left out. Variance: one for all rows ("model"); "robust" adds squared shares of the score by row,
 * "clustered" by cluster. Intervals use t on rows − parameters − 1; over clusters t on clusters − 1 below 30, normal from
 * there. Copies count as rows.
 *
 * Source: Longley 1967, Journal of the American Statistical Association 62:819 for what scaling guards against; White 1980,
 * Econometrica 48:817 for the robust variance (recalled, not read).
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * linearRegression({ outcome: [3, 1, 4, 2, 5, 3] }, matrix); // 2 more where x is 1, −0.267 to 4.267
 */
export function linearRegression(
  data: OutcomeColumns,
  matrix: ModelMatrix,
  options: LinearOptions = {},
): Answer<LinearFit> {
  const { level = 0.95 } = options;
  requireLevel(WHERE, level);
  const rows = outcomeRows(WHERE, data, matrix, FINITE);
  const settings = varianceSettings(WHERE, rows, options);
  const columns = fitColumns(WHERE, matrix, rows.places, true);
  const parameters = columns.names.length - 1;
  const count = countOf(rows);
  const freedom = count - parameters - 1;
  if (freedom < 1) return FEWER_ROWS;
  const reference =
    settings.clusters === null ? studentReference(freedom, level) : referenceOf(settings, level);
  if (reference === undefined) return ONE_CLUSTER;
  const squares = leastSquares(columns.values, rows);
  const covariances = squares && covariancesOfFit(squares, columns, rows, settings);
  if (squares === undefined || covariances === undefined) return CANNOT_TELL;
  const { left, total } = squares;
  if (!(left > ROUNDING * total)) return NO_SPREAD;
  const variance = left / freedom;
  const model = turned(columns.axes, covariances.model).map((row) => row.map((value) => value * variance));
  const asked = settings.variance === "model" ? model : turned(columns.axes, covariances.asked);
  const estimates = inCallerUnits(columns, squares.at);
  const values = { estimates, covariance: asked, reference, separations: new Map(), hasRatios: false };
  const ratio = (places: readonly number[]): Answer<ModelTest> => {
    if (settings.weights === "sampling") return NO_WEIGHTED_LIKELIHOOD;
    const wald = waldTest({ ...values, covariance: model }, places, "model");
    return wald.computed ? computed(ratioFromWald(wald, count, freedom)) : wald;
  };
  const slopes = columns.names.flatMap((name, place) => (name === CONSTANT ? [] : [place]));
  return computed({
    kind: "linearRegression",
    settings: { ...settings, level, degreesOfFreedom: reference.degreesOfFreedom },
    rows: rows.outcome.length,
    parameters,
    ...describeFit(matrix, columns, values, settings, ratio),
    modelCovariance: model,
    residualDeviation: Math.sqrt(variance),
    explained: 1 - left / total,
    likelihoodRatio: parameters === 0 ? NOTHING_OF_ITS_OWN : ratio(slopes),
    lost: matrix.lost,
  });
}

const FINITE = { words: "a finite number", holds: Number.isFinite };
// Beside the spread of the outcome itself.
const ROUNDING = 1e-20;
const CANNOT_TELL = notComputed("not-converged", "the columns cannot be told apart");
const NO_SPREAD = notComputed(
  "no-spread",
  "the terms give the outcome without error, so nothing is left to judge them by",
);

const FEWER_ROWS = notComputed(
  "fewer-rows-than-parameters",
  "too few rows for the parameters, a constant and a spread; use fewer terms",
);

/** Rows, copies counted. */
function countOf({ outcome, weight }: OutcomeRows): number {
  return weight?.kind === "copies" ? weight.values.reduce((sum, one) => sum + one, 0) : outcome.length;
}

function studentReference(degreesOfFreedom: number, level: number): Reference {
  return {
    degreesOfFreedom,
    quantile: studentUpperQuantile((1 - level) / 2, degreesOfFreedom),
    p: (ratio) => studentTwoSided(ratio, degreesOfFreedom),
  };
}

/** With normal errors the sum of squares without the places is (1 + Wald / freedom) times that with them. */
function ratioFromWald(
  { chiSquare: wald, degreesOfFreedom }: ModelTest,
  count: number,
  freedom: number,
): ModelTest {
  const chiSquare = count * Math.log1p(wald / freedom);
  const p = chiSquareUpper(chiSquare, degreesOfFreedom);
  return { chiSquare, degreesOfFreedom, p, variance: "model", degreesBeneath: null };
}
