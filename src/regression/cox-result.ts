import type { Answer } from "../base/answer.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import type { FitReport } from "../numeric/newton.ts";
import type { SmallSample } from "../survival/few-clusters.ts";
import type { WeightKind } from "../survival/observations.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import type { CoxVarianceKind } from "./cox-variance.ts";
import type { RowsLost } from "./model-matrix.ts";

/** A ratio of hazards for one unit more of a column, with all it rests on. */
export interface HazardRatio {
  readonly logRatio: number;
  readonly standardError: number;
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
  /** logRatio / standardError. */
  readonly statistic: number;
  readonly p: number;
  /** Of the t that limits and p refer to; left out where they are normal. */
  readonly degreesOfFreedom?: number;
}

/** What can be said of a column along which the likelihood rises for ever. Model-based, whatever the variance; nothing with sampling weights. */
export interface SeparatedColumn {
  /** Whether the ratio runs to infinity or to 0. */
  readonly ratioTends: "up" | "down";
  readonly likelihoodRatio: Answer<ModelTest>;
  /** The one limit that exists: the ratio is above `lower`, or below `upper`. */
  readonly limit: Answer<{ readonly side: "lower" | "upper"; readonly ratio: number }>;
}

export interface CoxColumn {
  readonly column: string;
  readonly term: string;
  readonly hazardRatio: Answer<HazardRatio>;
  readonly separation?: SeparatedColumn;
}

/** A chi-square (or its F form for few clusters) on some degrees of freedom. */
export interface ModelTest {
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
  /** What the test takes as independent. */
  readonly variance: CoxVarianceKind;
  /** Degrees of freedom of F beneath; null means chi-square. */
  readonly degreesBeneath: number | null;
}

export interface TermTest {
  readonly term: string;
  readonly wald: Answer<ModelTest>;
}

/** Something a reader must know before quoting the fit. The code is stable. */
export interface FitNote {
  readonly code:
    | "not-converged"
    | "few-events-per-parameter"
    | "few-clusters"
    | "two-way-not-positive"
    | "model-based-tests";
  readonly text: string;
  /** The same without counts, for readers who may not know them. */
  readonly plain: string;
}

export interface CoxFit {
  readonly kind: "coxRegression";
  readonly settings: {
    readonly sameDay: SameDayRule;
    readonly event: readonly string[];
    readonly level: number;
    readonly variance: CoxVarianceKind;
    readonly clusteredBy: readonly string[];
    /** Clusters with rows, in the order of `clusteredBy`. */
    readonly clusters: readonly number[];
    /** Degrees of freedom of the t used below 30 clusters; null means normal, and that every ratio has its own ("shares"). */
    readonly degreesOfFreedom: number | null;
    readonly smallSample: SmallSample;
    readonly weights: WeightKind | null;
    readonly stratified: boolean;
    readonly delayedEntry: boolean;
  };
  readonly timeUnit: TimeUnit;
  readonly rows: number;
  /** Rows with an event; copies counted. */
  readonly events: number;
  readonly strata: number;
  /** Strata in which no event happened: they say nothing. */
  readonly strataWithoutEvents: number;
  /** Columns with a coefficient or separated. */
  readonly parameters: number;
  readonly eventsPerParameter: number;
  readonly columns: readonly CoxColumn[];
  readonly terms: readonly TermTest[];
  /** Columns that have a coefficient: the order of both matrices. */
  readonly estimated: readonly string[];
  readonly covariance: readonly (readonly number[])[];
  readonly modelCovariance: readonly (readonly number[])[];
  readonly logLikelihood: number;
  readonly nullLogLikelihood: number;
  /** Likelihood-ratio and score tests take rows as independent, and are refused with sampling weights. */
  readonly likelihoodRatio: Answer<ModelTest>;
  readonly score: Answer<ModelTest>;
  readonly wald: Answer<ModelTest>;
  /** Score test with the spread of the score between clusters or rows; only where the variance is not the model's. */
  readonly robustScore?: Answer<ModelTest>;
  readonly fit: FitReport;
  readonly notes: readonly FitNote[];
  readonly lost: readonly RowsLost[];
}
