import { type Answer, computed, notComputed } from "../base/answer.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import type { LikelihoodPoint } from "../numeric/newton.ts";
import {
  choleskyFactor,
  choleskySolve,
  type SymmetricMatrix,
  symmetricInverse,
} from "../numeric/symmetric-matrix.ts";
import { referenceFor, type SmallSample } from "../survival/few-clusters.ts";
import type { Clusters, ObservationColumns } from "../survival/observations.ts";
import { coxColumns, termTests } from "./cox-columns.ts";
import { exactWork, MOST_EXACT_WORK } from "./cox-exact.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import { keepRows } from "./cox-kept-rows.ts";
import { type CoxMaximum, coxMaximum, sumsOf } from "./cox-maximum.ts";
import { fitNotes } from "./cox-notes.ts";
import { type CoxOptions, checkOptions, defaultVariance } from "./cox-options.ts";
import type { CoxFit, ModelTest } from "./cox-result.ts";
import { type CoxRows, coxRows } from "./cox-rows.ts";
import { chiSquareTest, fewestFreedom, quadraticTest, type TestGround } from "./cox-tests.ts";
import { type CoxVarianceKind, type ScoreSpread, sandwich, scoreSpread } from "./cox-variance.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { type UnitWays, unitWays } from "./unit-scores.ts";
import { NO_WEIGHTED_LIKELIHOOD } from "./weighted-likelihood.ts";
import { withoutNoise } from "./without-noise.ts";

/**
 * By what factor the hazard of an event goes up with each column, the others held: proportional-hazards regression.
 *
 * At risk is (entry, exit]; events of one tick share its risk set by the same-day rule: "efron" (each leaves in turn, with
 * the mean weight of the events of the tick), "breslow" (all at once; whole-number weights equal repeated rows) or "exact"
 * (the discrete likelihood, for unweighted rows; refused above a stated amount of work). Strata have baselines of their own.
 * The pieces of a case cut in rows count as one in a robust variance.
 *
 * Variance: the model's, or sums of squared influence between rows or cases ("robust") or clusters, without a small-sample
 * factor unless one is asked for. Two ways of clustering give first + second − both, and the larger of the two where that is
 * not positive definite. Below 30 clusters limits and tests use t or F. With `smallSample` "shares" the summed score u_c of a
 * cluster becomes (I − A_c A⁻¹)⁻¹ u_c before it is squared: A_c is the cluster's own part of the information A, the sum over
 * its rows of ∫ exp(xβ) (x − mean)(x − mean)ᵀ dΛ while at risk, and the A_c add up to A. Each ratio then refers to t on degrees
 * of freedom of its own, however many clusters there are: a group that rests on four of 24 has little over three.
 *
 * Columns are centred and scaled inside and reported in the caller's units. A column without information of its own, and one
 * along which the likelihood rises for ever, has no coefficient but a reason; the others are fitted beside it.
 *
 * Source: Cox 1972; Efron 1977; Lin and Wei 1989; Cameron, Gelbach and Miller 2011; Mancl and DeRouen 2001; Bell and McCaffrey 2002.
 *
 * @throws ArgumentError for a model and observations that do not fit together, and for options that exclude each other.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * coxRegression(rows, matrix); // log ratio 0.9406, ratio 2.562, 0.225 to 29.1
 */
export function coxRegression(
  columns: ObservationColumns,
  matrix: ModelMatrix,
  options: CoxOptions = {},
): Answer<CoxFit> {
  const { sameDay = "efron", level = 0.95, smallSample = "none" } = options;
  requireLevel("coxRegression", level);
  const rows = coxRows("coxRegression", columns, matrix, options.event);
  const variance = options.variance ?? defaultVariance(rows.observations);
  checkOptions(rows.observations, { ...options, sameDay, smallSample, variance });
  const refusal = tooLittle(rows) ?? tooMuchWork(rows, sameDay);
  if (refusal !== undefined) return refusal;
  const found = coxMaximum(rows, sameDay, [...rows.columns.keys()]);
  const parameters = parametersOf(found);
  if (rows.eventRows.length < parameters) {
    return notComputed(
      "fewer-events-than-parameters",
      "fewer events than coefficients; leave columns out or give rates only",
    );
  }
  const inverse = symmetricInverse(found.point.information);
  if (inverse === undefined) {
    return notComputed(
      "no-curvature",
      "the iteration ended where the likelihood does not bend; no variance exists there",
    );
  }
  const second = options.secondCluster;
  const fit = fitOf(rows, found, inverse, matrix, { level, smallSample, variance, sameDay, second });
  if (fit.computed) keepRows(fit, { columns, matrix, rows });
  return fit;
}

interface FitSettings {
  readonly level: number;
  readonly smallSample: SmallSample;
  readonly variance: CoxVarianceKind;
  readonly sameDay: SameDayRule;
  readonly second: Clusters | undefined;
}

function fitOf(
  rows: CoxRows,
  found: CoxMaximum,
  inverse: SymmetricMatrix,
  matrix: ModelMatrix,
  settings: FitSettings,
): Answer<CoxFit> {
  const { level, variance, sameDay } = settings;
  const { observations } = rows;
  const ways =
    variance === "model"
      ? undefined
      : unitWays(rows, variance === "clustered", settings.smallSample, settings.second);
  const spread = spreadAt(rows, found.point, found.estimated, ways, settings);
  const ground = groundOf(variance, spread);
  const common = referenceFor(ground.clusters, level);
  if (common === undefined) {
    return notComputed("too-few-clusters", "one cluster holds every row; a variance needs at least two");
  }
  const freedoms = spread?.freedom && inverse.map(spread.freedom);
  const referenceOf = (place: number) =>
    freedoms === undefined ? common : referenceFor(ground.clusters, level, freedoms[place]);
  const covariance = spread === undefined ? inverse : withoutNoise(sandwich(inverse, spread), inverse);
  const scales = found.estimated.map((column) => rows.columns[column]!.scale);
  const inUnits = (scaled: SymmetricMatrix) =>
    scaled.map((line, j) => line.map((value, k) => value / (scales[j]! * scales[k]!)));
  const parameters = parametersOf(found);
  const events =
    rows.observations.weight?.kind === "copies" ? sum(rows.cells.eventWeight) : rows.eventRows.length;
  const wald = [...found.notEstimable.values()].some(({ reason }) => reason === "separation")
    ? notComputed(
        "separation",
        "a coefficient runs away, so no distance from zero exists; see the likelihood-ratio test",
      )
    : quadraticTest(found.beta, covariance, { ...ground, ...fewestFreedom(freedoms) });
  const base = {
    events,
    parameters,
    eventsPerParameter: parameters === 0 ? events : events / parameters,
    fit: found.report,
    settings: settingsOf(rows, settings, spread, freedoms === undefined ? common.degreesOfFreedom : null),
  };
  const isSampled = observations.weight?.kind === "sampling";
  const robust = robustScore(found, settings, spreadAt(rows, found.firstPoint, found.tried, ways, settings));
  return computed({
    kind: "coxRegression",
    ...base,
    timeUnit: observations.timeUnit,
    rows: rows.count,
    ...strataOf(rows),
    columns: coxColumns(rows, found, covariance, matrix, referenceOf, { sameDay, level }),
    terms: termTests(found, covariance, matrix, ground, freedoms),
    estimated: found.estimated.map((column) => rows.columns[column]!.name),
    covariance: inUnits(covariance),
    modelCovariance: inUnits(inverse),
    logLikelihood: found.point.logLikelihood,
    nullLogLikelihood: found.firstPoint.logLikelihood,
    likelihoodRatio: isSampled ? NO_WEIGHTED_LIKELIHOOD : likelihoodRatio(found, parameters),
    score: isSampled ? NO_WEIGHTED_LIKELIHOOD : scoreTest(found),
    wald,
    ...(robust && { robustScore: robust }),
    notes: fitNotes(base, spread),
    lost: matrix.lost,
  } satisfies CoxFit);
}

function tooLittle({ count, eventRows }: CoxRows) {
  if (count === 0) return notComputed("no-rows", "no row of the model has follow-up and weight");
  if (eventRows.length === 0) return notComputed("no-events", "no event was seen");
  return undefined;
}

function tooMuchWork(rows: CoxRows, rule: SameDayRule) {
  if (rule !== "exact" || exactWork(rows, rows.columns.length) <= MOST_EXACT_WORK) return undefined;
  return notComputed(
    "exact-too-costly",
    'too many events share a tick with too many at risk for the same-day rule "exact"; use "efron"',
  );
}

function parametersOf({ estimated, notEstimable }: CoxMaximum): number {
  const separated = [...notEstimable.values()].filter(({ reason }) => reason === "separation");
  return estimated.length + separated.length;
}

function spreadAt(
  rows: CoxRows,
  at: LikelihoodPoint,
  columns: readonly number[],
  ways: UnitWays | undefined,
  { smallSample }: FitSettings,
): ScoreSpread | undefined {
  const point = sumsOf(at);
  if (ways === undefined || point === undefined) return undefined;
  const values = columns.map((column) => rows.columns[column]!.values);
  return scoreSpread(rows, point, values, ways, smallSample);
}

function groundOf(variance: CoxVarianceKind, spread: ScoreSpread | undefined): TestGround {
  return { variance, clusters: variance === "clustered" ? (spread?.units ?? null) : null };
}

function likelihoodRatio({ point, firstPoint }: CoxMaximum, parameters: number): Answer<ModelTest> {
  const gain = point.logLikelihood - firstPoint.logLikelihood;
  return computed(chiSquareTest(Math.max(0, 2 * gain), parameters));
}

/** Score at zero over its information there, of columns that carry information of their own. */
function scoreTest({ firstPoint, tried }: CoxMaximum): Answer<ModelTest> {
  const factor = choleskyFactor(firstPoint.information);
  const solved = factor === undefined ? [] : choleskySolve(factor, firstPoint.score);
  return computed(
    chiSquareTest(
      solved.reduce((total, value, k) => total + value * firstPoint.score[k]!, 0),
      tried.length,
    ),
  );
}

/** Score test with the spread of the score there, where the variance is not the model's. */
function robustScore(
  { firstPoint, tried }: CoxMaximum,
  { variance }: FitSettings,
  spread: ScoreSpread | undefined,
): Answer<ModelTest> | undefined {
  if (spread === undefined || tried.length === 0) return undefined;
  const freedoms = spread.freedom && symmetricInverse(firstPoint.information)?.map(spread.freedom);
  const ground = { ...groundOf(variance, spread), ...fewestFreedom(freedoms) };
  return quadraticTest(firstPoint.score, spread.matrix, ground);
}

function settingsOf(
  { observations, event }: CoxRows,
  { level, variance, sameDay, smallSample, second }: FitSettings,
  spread: ScoreSpread | undefined,
  degreesOfFreedom: number | null,
): CoxFit["settings"] {
  const words = [observations.cluster?.word, second?.word].filter((word) => word !== undefined);
  return {
    sameDay,
    event,
    level,
    variance,
    clusteredBy: variance === "clustered" ? words : [],
    clusters: variance === "clustered" ? (spread?.twoWay?.units ?? [spread?.units ?? 0]) : [],
    degreesOfFreedom,
    smallSample,
    weights: observations.weight?.kind ?? null,
    stratified: observations.stratum.labels.length > 1,
    delayedEntry: observations.entry?.some((tick) => tick >= 0) ?? false,
  };
}

function strataOf({ cells }: CoxRows) {
  const strata = cells.begins.length;
  const empty = cells.begins.filter((begin, at) => (cells.begins[at + 1] ?? cells.count) === begin + 1);
  return { strata, strataWithoutEvents: empty.length };
}

function sum(values: Float64Array): number {
  return values.reduce((total, value) => total + value, 0);
}
