import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { tickOfYear } from "../base/time-unit.ts";
import { numbered } from "../base/words.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { referenceFor } from "../survival/few-clusters.ts";
import type { Clusters, ObservationColumns } from "../survival/observations.ts";
import { plainNumbers } from "../survival/plain-numbers.ts";
import { INTERVAL_SCALES, type IntervalScale } from "../survival/results.ts";
import { limitsByVariance } from "../survival/survival-limits.ts";
import { type HazardAt, hazardAt, hazardShares } from "./cox-hazard-shares.ts";
import type { CoxFit } from "./cox-result.ts";
import { type CoxState, coxState } from "./cox-state.ts";
import {
  type Influence,
  type InfluenceVariance,
  influenceVariance,
  smallSampleOf,
} from "./influence-variance.ts";
import type { ModelMatrix } from "./model-matrix.ts";

export interface PredictedCurvesOptions {
  /** A value for every column of the model, in its own units; a column left out stands at 0. */
  readonly at: readonly { readonly label: string; readonly values: Readonly<Record<string, number>> }[];
  /** Years at which values with limits are given. Default none. */
  readonly years?: readonly number[];
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Scale on which the interval is symmetric. Default "log-minus-log". */
  readonly scale?: IntervalScale;
  /** The second cluster of the fit, where it had one. */
  readonly secondCluster?: Clusters;
}

export interface PredictedValue {
  readonly year: number;
  readonly tick: number;
  readonly cumulativeHazard: number;
  /** Of the cumulative hazard. */
  readonly standardError: number;
  readonly survival: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface PredictedCurve {
  readonly label: string;
  readonly stratum: string;
  /** Ticks with an event in the stratum. */
  readonly time: readonly number[];
  readonly cumulativeHazard: readonly number[];
  readonly survival: readonly number[];
  readonly atYears: readonly Answer<PredictedValue>[];
}

export interface PredictedCurves {
  readonly kind: "predictedCurves";
  readonly settings: {
    readonly level: number;
    readonly scale: IntervalScale;
    readonly variance: CoxFit["settings"]["variance"];
    readonly clusteredBy: readonly string[];
    readonly smallSample: CoxFit["settings"]["smallSample"];
  };
  /** Over values asked for, then strata. */
  readonly curves: readonly PredictedCurve[];
}

/**
 * The curve a fit predicts for stated values of its columns, in each stratum: survival exp(−baseline · ratio).
 *
 * The baseline hazard is that of the same-day rule of the fit. The standard error of the cumulative hazard is the model's, or
 * where the fit is robust or clustered the sum of squared influence over the same units, corrected for few clusters as the
 * fit is: "clusters" multiplies it by G / (G − 1); "shares" corrects each cluster's score and so its influence through the
 * coefficients, and leaves its influence on the baseline as it is. Before the first event of a stratum there are no limits.
 * Other causes end follow-up, so one minus survival is net risk. Nothing is predicted after the last follow-up of a stratum.
 *
 * Source: Breslow 1972; Tsiatis 1981; Link 1984.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1], timeUnit: TIME_UNITS.year };
 * const fit = coxRegression(rows, matrix);
 * if (!fit.computed) throw new Error(fit.because);
 * predictedCurves(rows, matrix, fit, { at: [{ label: "x is 1", values: { x: 1 } }], years: [3] });
 * // 0.549 survive year 3, 0.056 to 0.883
 */
export function predictedCurves(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
  options: PredictedCurvesOptions,
): Answer<PredictedCurves> {
  const { at, level = 0.95, scale = "log-minus-log", years = [] } = options;
  requireLevel("predictedCurves", level);
  if (!INTERVAL_SCALES.includes(scale)) {
    throw new ArgumentError(`predictedCurves: scale must be one of ${INTERVAL_SCALES.join(", ")}`);
  }
  const set = coxState("predictedCurves", observations, matrix, fit);
  if (!set.computed) return set;
  const { state } = set;
  const { variance, clusteredBy } = fit.settings;
  const smallSample = smallSampleOf(fit.settings);
  const setting: Setting = {
    state,
    variance,
    level,
    scale,
    spreadOf:
      variance === "model"
        ? undefined
        : influenceVariance(state, { variance, smallSample }, options.secondCluster),
  };
  const points = at.map(({ label, values }) => ({ label, x: scaledPoint(state, matrix, values) }));
  const curves = points.flatMap(({ label, x }) =>
    state.rows.observations.stratum.labels.map((stratum, index) =>
      curveOf(setting, label, x, stratum, index, years),
    ),
  );
  if (!curves.every(({ cumulativeHazard }) => cumulativeHazard.every(Number.isFinite))) return TOO_LARGE;
  return computed({
    kind: "predictedCurves",
    settings: { level, scale, variance, clusteredBy, smallSample },
    curves,
  });
}

/**
 * The cumulative hazard of a fit where every column is 0, in each stratum.
 *
 * Give columns whose zero lies within the data, or the baseline describes nobody; see `predictedCurves`.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * const fit = coxRegression(rows, matrix);
 * if (!fit.computed) throw new Error(fit.because);
 * baselineHazard(rows, matrix, fit); // cumulative hazard 0.094, 0.234, 0.453, 1.453
 */
export function baselineHazard(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
  options: Omit<PredictedCurvesOptions, "at"> = {},
): Answer<PredictedCurves> {
  return predictedCurves(observations, matrix, fit, { ...options, at: [{ label: "baseline", values: {} }] });
}

const TOO_LARGE = notComputed(
  "too-large",
  "the hazard is too large a number to write; are the values within the data?",
);

interface Setting {
  readonly state: CoxState;
  readonly variance: CoxFit["settings"]["variance"];
  readonly level: number;
  readonly scale: IntervalScale;
  /** Absent where the variance is the model's. */
  readonly spreadOf: ((influence: Influence) => InfluenceVariance) | undefined;
}

function scaledPoint(
  { columns }: CoxState,
  matrix: ModelMatrix,
  values: Readonly<Record<string, number>>,
): Float64Array {
  const names = new Set(matrix.columns.map(({ name }) => name));
  for (const [name, value] of Object.entries(values)) {
    if (!names.has(name)) throw new ArgumentError(`predictedCurves: the model has no column "${name}"`);
    if (!Number.isFinite(value))
      throw new ArgumentError(`predictedCurves: "${name}" must be a finite number`);
  }
  return Float64Array.from(columns, ({ name, centre, scale }) => ((values[name] ?? 0) - centre) / scale);
}

function curveOf(
  setting: Setting,
  label: string,
  x: Float64Array,
  stratum: string,
  index: number,
  years: readonly number[],
): PredictedCurve {
  const { rows, point, beta } = setting.state;
  const { cells, observations } = rows;
  const [from, end] = [cells.begins[index]! + 1, cells.begins[index + 1] ?? cells.count];
  const ratio = Math.exp(x.reduce((sum, value, j) => sum + value * beta[j]!, 0));
  const hazards = point.terms.cumulative.subarray(from, end).map((hazard) => hazard * ratio);
  const followedTo = lastExit(setting.state, index);
  return {
    label,
    stratum,
    time: plainNumbers(cells.tick.subarray(from, end)),
    cumulativeHazard: plainNumbers(hazards),
    survival: plainNumbers(hazards.map((hazard) => Math.exp(-hazard))),
    atYears: years.map((year) => {
      const tick = tickOfYear(year, observations.timeUnit);
      return tick > followedTo ? beyond(year) : valueAt(setting, x, ratio, index, year, tick);
    }),
  };
}

export function beyond(year: number): NotComputed {
  return notComputed("beyond-follow-up", `nobody was followed for ${numbered(year, "year")}`);
}

function lastExit({ rows }: CoxState, stratum: number): number {
  const { exit, stratum: strata } = rows.observations;
  return rows.row.reduce(
    (last, row) => (strata.codes[row] === stratum ? Math.max(last, exit[row]!) : last),
    -1,
  );
}

function valueAt(
  setting: Setting,
  x: Float64Array,
  ratio: number,
  index: number,
  year: number,
  tick: number,
): Answer<PredictedValue> {
  const at = hazardAt(setting.state, tick);
  const cumulativeHazard = at.hazard[index]! * ratio;
  const spread = hazardVariance(setting, x, at, index);
  const reference = referenceFor(setting.variance === "clustered" ? spread.units : null, setting.level);
  const standardError = ratio * Math.sqrt(spread.variance);
  const survival = Math.exp(-cumulativeHazard);
  if (![cumulativeHazard, standardError].every(Number.isFinite)) {
    return TOO_LARGE;
  }
  const { lower, upper } = limitsByVariance(survival, survival * standardError, {
    scale: setting.scale,
    quantile: reference?.quantile,
  });
  return computed({ year, tick, cumulativeHazard, standardError, survival, lower, upper });
}

/** Variance of the cumulative hazard over the ratio: of baseline and coefficients together. */
function hazardVariance(
  { state, spreadOf }: Setting,
  x: Float64Array,
  at: HazardAt,
  index: number,
): InfluenceVariance {
  const { rows, inverse } = state;
  const slope = at.pull.map((pull, j) => x[j]! * at.hazard[index]! - pull[index]!);
  const byColumn = inverse.map((line) => line.reduce((sum, v, k) => sum + v * slope[k]!, 0));
  if (spreadOf === undefined) {
    return {
      variance: at.squares[index]! + slope.reduce((sum, value, j) => sum + value * byColumn[j]!, 0),
      units: 0,
    };
  }
  const shares = hazardShares(rows, state, at);
  const { codes } = rows.observations.stratum;
  const held = shares.map((share, i) => (codes[rows.row[i]!] === index ? share : 0));
  return spreadOf({ held, byScore: byColumn });
}
