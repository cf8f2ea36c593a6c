import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import type { FitReport } from "../numeric/newton.ts";
import { symmetricInverse } from "../numeric/symmetric-matrix.ts";
import { CLUSTERS_OR_NONE, type ClustersOrNone, referenceFor } from "../survival/few-clusters.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { independentUnits } from "../survival/units.ts";
import type { Separation } from "./coefficient.ts";
import type { CoxRows } from "./cox-rows.ts";
import { fineGrayShares } from "./fine-gray-influence.ts";
import { type FineGrayPoint, fineGrayLikelihood } from "./fine-gray-likelihood.ts";
import { type FineGrayRows, fineGrayRows, withColumns } from "./fine-gray-rows.ts";
import { type FitColumns, fitColumnsOf, inCallerUnits, turned } from "./fit-columns.ts";
import { describeFit, type FitDescription, ONE_CLUSTER } from "./fit-description.ts";
import { hasSettled, type LikelihoodFit, likelihoodFit, notConverged } from "./likelihood-fit.ts";
import { likelihoodUnit } from "./likelihood-unit.ts";
import type { ModelMatrix, RowsLost } from "./model-matrix.ts";
import { unitSums } from "./unit-sums.ts";
import type { VarianceSettings } from "./variance-of-fit.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";
import { LOST_WEIGHTS } from "./weighted-likelihood.ts";

/** Whether a variance includes that the censoring weights were estimated. */
export const CENSORING_WEIGHTS = ["estimated", "known"] as const;
export type CensoringWeights = (typeof CENSORING_WEIGHTS)[number];

export interface FineGrayOptions {
  /** The cause whose crude risk is modelled. */
  readonly cause: string;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Default "clustered" where the observations name a cluster, else "robust". */
  readonly variance?: "robust" | "clustered";
  /** "clusters" multiplies a variance over G clusters by G / (G − 1). Default "none". */
  readonly smallSample?: ClustersOrNone;
  /** Default "estimated". */
  readonly censoringWeights?: CensoringWeights;
}

/** Coefficients are logarithms of ratios of subdistribution hazards. */
export interface FineGrayFit extends FitDescription {
  readonly kind: "fineGrayRegression";
  /** What the numbers are for; to be printed beside them. */
  readonly purpose: string;
  readonly settings: VarianceSettings & {
    readonly cause: string;
    readonly level: number;
    readonly sameDay: "breslow";
    readonly censoringWeights: CensoringWeights;
    /** Strata with censoring curves of their own. */
    readonly censoringCurves: number;
    readonly delayedEntry: boolean;
    /** Degrees of freedom of the t used below 30 clusters; null means normal. */
    readonly degreesOfFreedom: number | null;
  };
  readonly timeUnit: TimeUnit;
  readonly rows: number;
  /** Rows with the cause, and with a competing event. */
  readonly events: number;
  readonly competing: number;
  readonly parameters: number;
  readonly eventsPerParameter: number | null;
  /** Of the weighted partial likelihood, which is none of independent rows: no test rests on it. */
  readonly logPseudoLikelihood: number;
  /** Cumulative subdistribution hazard at the means of the columns. */
  readonly baseline: {
    readonly time: readonly number[];
    readonly cumulative: readonly number[];
    readonly means: readonly { readonly column: string; readonly value: number }[];
  };
  readonly fit: FitReport;
  readonly lost: readonly RowsLost[];
}

const WHERE = "fineGrayRegression";

/**
 * How the crude risk of a cause changes with each term: a prediction of what will be seen, not an effect on the cause.
 *
 * Proportional hazards of the subdistribution. Those with a competing event stay at risk with weight G(t−) / G(T−), G being
 * the curve of censoring: events come before the censorings of a tick. With delayed entry, (entry, exit], the curve of entry
 * takes part in the weight likewise. Each stratum has its own curves of censoring and entry; the baseline is one. Events on
 * one tick share its risk set (Breslow). Weights of rows count in the curves as well.
 *
 * Variance: squared influence by row, or by cluster with t on clusters − 1 below 30; it includes that the weights were
 * estimated, entry, strata and clusters included, unless they are declared known. No likelihood-ratio test exists.
 *
 * Cost grows linearly with rows and with ticks: nobody is followed past their own event.
 *
 * Source: Fine and Gray 1999, Journal of the American Statistical Association 94:496; Geskus 2011, Biometrics 67:39 for
 * delayed entry (recalled, not read).
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 2, 1, 1, 0, 1], causes: ["revision", "death"] };
 * fineGrayRegression(rows, matrix, { cause: "revision" }); // ratio 3.411, 0.473 to 24.6
 */
export function fineGrayRegression(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  options: FineGrayOptions,
): Answer<FineGrayFit> {
  const { level = 0.95 } = options;
  requireLevel(WHERE, level);
  requireOptions(options);
  const bare = fineGrayRows(WHERE, observations, matrix, options.cause);
  if (!bare.computed) return bare;
  const { rows } = bare;
  const columns = fitColumnsOf(rows.columns, rows.count, false);
  const frame = withColumns(bare, columns.values);
  const parameters = columns.names.length;
  const events = rows.eventRows.length;
  if (events === 0) return notComputed("no-events", "nobody had the cause, so nothing changes its risk");
  if (events < parameters) return FEWER_EVENTS;
  const evaluate = (at: ArrayLike<number>) => fineGrayLikelihood(frame, at);
  const { weight } = rows.observations;
  const start = new Float64Array(parameters);
  if (weight?.kind === "sampling" && !Number.isFinite(evaluate(start).logLikelihood)) return LOST_WEIGHTS;
  const fit = likelihoodFit(evaluate, start, columns, likelihoodUnit(weight));
  if (!hasSettled(fit)) return notConverged(fit.maximum.report);
  const spread = spreadOf(frame, fit.maximum.point, options);
  if (spread === undefined) return notConverged(fit.maximum.report);
  const { settings, covariance } = spread;
  const reference = referenceFor(settings.clusters?.count ?? null, level);
  if (reference === undefined) return ONE_CLUSTER;
  const values = {
    estimates: inCallerUnits(columns, fit.maximum.at),
    covariance: turned(columns.axes, covariance),
    reference,
    separations: separationsOf(fit),
    hasRatios: true,
  };
  return computed({
    kind: "fineGrayRegression",
    purpose: PURPOSE,
    settings: {
      ...settings,
      cause: options.cause,
      level,
      sameDay: "breslow",
      censoringWeights: options.censoringWeights ?? "estimated",
      censoringCurves: frame.curves.length,
      delayedEntry: rows.observations.entry !== undefined,
      degreesOfFreedom: reference.degreesOfFreedom,
    },
    timeUnit: rows.observations.timeUnit,
    rows: rows.count,
    events,
    competing: frame.competing.length,
    parameters,
    eventsPerParameter: parameters === 0 ? null : events / parameters,
    ...describeFit(matrix, columns, values, settings, () => NO_LIKELIHOOD),
    logPseudoLikelihood: fit.maximum.point.logLikelihood,
    baseline: baselineOf(rows, fit.maximum.point, columns),
    fit: fit.maximum.report,
    lost: matrix.lost,
  });
}

const PURPOSE =
  "prediction of crude risk: a ratio above 1 means that more will be seen, be it through the cause itself or through fewer competing events";

const NO_LIKELIHOOD = notComputed(
  "no-likelihood",
  "weighted risk sets give no likelihood of independent rows, so no likelihood-ratio test or profile limit exists",
);

function requireOptions({
  variance = "robust",
  smallSample = "none",
  censoringWeights = "estimated",
}: FineGrayOptions) {
  const allowed = [
    ["variance", variance, ["robust", "clustered"]],
    ["smallSample", smallSample, CLUSTERS_OR_NONE],
    ["censoringWeights", censoringWeights, CENSORING_WEIGHTS],
  ] as const;
  for (const [name, value, words] of allowed) {
    if ((words as readonly string[]).includes(value)) continue;
    throw new ArgumentError(`${WHERE}: ${name} must be ${words.join(" or ")}; received ${value}`);
  }
}

const FEWER_EVENTS = notComputed(
  "fewer-events-than-parameters",
  "fewer events than parameters; use fewer terms",
);

/** Squared influence, by row or by cluster. */
function spreadOf(
  frame: FineGrayRows,
  point: FineGrayPoint,
  { variance: asked, smallSample = "none", censoringWeights = "estimated" }: FineGrayOptions,
): { settings: VarianceSettings; covariance: number[][] } | undefined {
  const { observations } = frame.rows;
  const { cluster, weight } = observations;
  const variance = asked ?? (cluster === undefined ? "robust" : "clustered");
  if (variance === "clustered" && cluster === undefined)
    throw new ArgumentError(`${WHERE}: a clustered variance needs clusters; give them or ask for "robust"`);
  const bread = symmetricInverse(point.information);
  if (bread === undefined) return undefined;
  const isClustered = variance === "clustered" && cluster !== undefined;
  const units = independentUnits(observations, isClustered);
  const byUnit = unitSums(frame.rows, units, "any");
  const { seen } = byUnit;
  const sums = fineGrayShares(frame, point, censoringWeights === "known").map(byUnit.of);
  const factor = isClustered && smallSample === "clusters" && seen > 1 ? seen / (seen - 1) : 1;
  const meat = weightedCrossProducts(sums, new Float64Array(sums[0]?.length ?? 0).fill(factor));
  const settings: VarianceSettings = {
    variance,
    clusters: isClustered ? { word: cluster.word, count: seen } : null,
    smallSample: isClustered ? smallSample : "none",
    weights: weight?.kind ?? null,
  };
  return { settings, covariance: turned(bread, meat) };
}

function separationsOf({ runs }: LikelihoodFit<FineGrayPoint>): ReadonlyMap<number, Separation> {
  return new Map(
    runs.flatMap((run, place): [number, Separation][] =>
      run === 0
        ? []
        : [[place, { tends: run > 0 ? "up" : "down", likelihoodRatio: NO_LIKELIHOOD, limit: NO_LIKELIHOOD }]],
    ),
  );
}

function baselineOf(
  { cells, columns }: CoxRows,
  { terms }: FineGrayPoint,
  { names }: FitColumns,
): FineGrayFit["baseline"] {
  const places = [...cells.tick.keys()].filter((cell) => (cells.tick[cell] ?? -1) >= 0);
  return {
    time: places.map((cell) => cells.tick[cell] ?? 0),
    cumulative: places.map((cell) => terms.cumulative[cell] ?? 0),
    means: columns
      .filter(({ name }) => names.includes(name))
      .map(({ name, centre }) => ({ column: name, value: centre })),
  };
}
