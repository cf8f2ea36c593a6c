import { type Answer, computed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import type { FitReport } from "../numeric/newton.ts";
import type { ModelTest } from "./cox-result.ts";
import { type FitColumns, fitColumns, inCallerUnits, turned } from "./fit-columns.ts";
import {
  amongPlaces,
  describeFit,
  estimatedPlaces,
  type FitDescription,
  ONE_CLUSTER,
  RATIO_NOT_ASKED,
} from "./fit-description.ts";
import { hasSettled, likelihoodFit, notConverged } from "./likelihood-fit.ts";
import { type Profile, ratioTest } from "./likelihood-profile.ts";
import { likelihoodUnit } from "./likelihood-unit.ts";
import { logisticLikelihood } from "./logistic-likelihood.ts";
import { type OutcomeCounts, outcomeCounts, outcomeRefusal, ZERO_OR_ONE } from "./logistic-outcome.ts";
import type { ModelMatrix, RowsLost } from "./model-matrix.ts";
import { type OutcomeColumns, outcomeRows } from "./outcome-rows.ts";
import { profiledColumns } from "./profiled-columns.ts";
import { separationsOf } from "./separation-of-fit.ts";
import {
  covariancesOfFit,
  referenceOf,
  type VarianceOptions,
  type VarianceSettings,
  varianceSettings,
} from "./variance-of-fit.ts";
import { LOST_WEIGHTS, NO_WEIGHTED_LIKELIHOOD } from "./weighted-likelihood.ts";

/** How limits and p of single coefficients are found: from a standard error, or from the likelihood itself. */
export const COEFFICIENT_INTERVALS = ["wald", "profile"] as const;
export type CoefficientInterval = (typeof COEFFICIENT_INTERVALS)[number];

export interface LogisticOptions extends VarianceOptions {
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Default "wald". "profile" needs the model-based variance, and adds the likelihood-ratio test of each term. */
  readonly interval?: CoefficientInterval;
}

/** Coefficients are logarithms of odds ratios. */
export interface LogisticFit extends FitDescription, OutcomeCounts {
  readonly kind: "logisticRegression";
  readonly settings: VarianceSettings & {
    readonly level: number;
    readonly interval: CoefficientInterval;
    /** Degrees of freedom of the t used below 30 clusters; null means normal. */
    readonly degreesOfFreedom: number | null;
  };
  readonly rows: number;
  /** Columns with a coefficient or separated, without the constant. */
  readonly parameters: number;
  /** The rarer outcome over the parameters; null without parameters. */
  readonly eventsPerParameter: number | null;
  readonly modelCovariance: readonly (readonly number[])[];
  readonly logLikelihood: number;
  readonly nullLogLikelihood: number;
  /** Test that all coefficients but the constant are 0. */
  /** Refused with sampling weights. */
  readonly likelihoodRatio: Answer<ModelTest>;
  readonly fit: FitReport;
  readonly lost: readonly RowsLost[];
}

const WHERE = "logisticRegression";

/**
 * How the odds of an outcome of 1 against 0 change with each term.
 *
 * Maximum likelihood on centred and scaled columns, reported in the caller's units. Columns that are constant or given by
 * others are named and left out. Where a column, or several together, predict the outcome without fault, they are "not
 * estimable: separation", with the likelihood-ratio test and the one profile limit that exists; the other coefficients are
 * those the fit tends to. Variance: from the model; "robust" adds squared shares of the score by row, "clustered" by
 * cluster, with t on clusters − 1 below 30. Likelihood-ratio tests and profile limits believe the model.
 *
 * Source: Hosmer, Lemeshow and Sturdivant 2013, Applied Logistic Regression; Liang and Zeger 1986, Biometrika 73:13
 * (recalled, not read).
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * logisticRegression({ outcome: [1, 0, 1, 1, 0, 0] }, matrix); // odds ratio 4.00, 0.134 to 119.2
 */
export function logisticRegression(
  data: OutcomeColumns,
  matrix: ModelMatrix,
  options: LogisticOptions = {},
): Answer<LogisticFit> {
  const { level = 0.95, interval = "wald" } = options;
  requireLevel(WHERE, level);
  const rows = outcomeRows(WHERE, data, matrix, ZERO_OR_ONE);
  const settings = varianceSettings(WHERE, rows, options);
  requireInterval(interval, settings);
  const columns = fitColumns(WHERE, matrix, rows.places, true);
  const parameters = columns.names.length - 1;
  const counts = outcomeCounts(rows);
  const reference = referenceOf(settings, level);
  const refusal = outcomeRefusal(rows, parameters);
  if (refusal !== undefined) return refusal;
  if (reference === undefined) return ONE_CLUSTER;
  const evaluate = (at: ArrayLike<number>) =>
    logisticLikelihood(columns.values, rows.outcome, rows.weight?.values, at);
  const start = startingAt(columns, counts);
  const isSampled = settings.weights === "sampling";
  if (isSampled && !Number.isFinite(evaluate(start).logLikelihood)) return LOST_WEIGHTS;
  const fit = likelihoodFit(evaluate, start, columns, likelihoodUnit(rows.weight));
  const { at, point, report } = fit.maximum;
  const covariances = hasSettled(fit) ? covariancesOfFit(point, columns, rows, settings) : undefined;
  if (covariances === undefined) return notConverged(report);
  const profile: Profile = { evaluate, at, start, top: point.logLikelihood };
  const values = {
    estimates: inCallerUnits(columns, at),
    covariance: turned(columns.axes, covariances.asked),
    reference,
    separations: separationsOf(isSampled ? NO_WEIGHTED_LIKELIHOOD : profile, columns.axes, fit, level),
    hasRatios: true,
  };
  const isProfile = interval === "profile";
  const description = describeFit(matrix, columns, values, settings, (places) =>
    isProfile ? ratioTest(profile, places) : RATIO_NOT_ASKED,
  );
  return computed({
    kind: "logisticRegression",
    settings: { ...settings, level, interval, degreesOfFreedom: reference.degreesOfFreedom },
    rows: rows.outcome.length,
    ...counts,
    parameters,
    eventsPerParameter: parameters === 0 ? null : Math.min(counts.events, counts.others) / parameters,
    ...description,
    ...(isProfile && { columns: profiledColumns(description.columns, columns, profile, level) }),
    modelCovariance: amongPlaces(turned(columns.axes, covariances.model), estimatedPlaces(columns, values)),
    logLikelihood: point.logLikelihood,
    nullLogLikelihood: nullLogLikelihood(counts),
    likelihoodRatio: isSampled
      ? NO_WEIGHTED_LIKELIHOOD
      : overallRatio(point.logLikelihood - nullLogLikelihood(counts), parameters),
    fit: report,
    lost: matrix.lost,
  });
}

function requireInterval(interval: CoefficientInterval, { variance }: VarianceSettings): void {
  if (!COEFFICIENT_INTERVALS.includes(interval)) {
    throw new ArgumentError(
      `${WHERE}: interval must be ${COEFFICIENT_INTERVALS.join(" or ")}; received ${interval}`,
    );
  }
  if (interval === "profile" && variance !== "model") {
    throw new ArgumentError(
      `${WHERE}: profile limits believe the model, so they go with variance "model" only; ask for "wald"`,
    );
  }
}

function startingAt({ names }: FitColumns, { events, others }: OutcomeCounts): number[] {
  return names.map((_, place) => (place === 0 ? Math.log(events / others) : 0));
}

function nullLogLikelihood({ events, others }: OutcomeCounts): number {
  const all = events + others;
  return events * Math.log(events / all) + others * Math.log(others / all);
}

function overallRatio(gain: number, degreesOfFreedom: number): Answer<ModelTest> {
  const chiSquare = Math.max(0, 2 * gain);
  const p = degreesOfFreedom === 0 ? 1 : chiSquareUpper(chiSquare, degreesOfFreedom);
  return computed({ chiSquare, degreesOfFreedom, p, variance: "model", degreesBeneath: null });
}
