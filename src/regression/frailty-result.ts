import type { Answer } from "../base/answer.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import type { FitReport } from "../numeric/newton.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import type { CoxColumn, TermTest } from "./cox-result.ts";
import type { RowsLost } from "./model-matrix.ts";

/** A number with its limits; without an upper one where the likelihood never falls far enough. */
export interface ProfiledNumber {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: Answer<{ readonly value: number }>;
}

/** Something a reader must know before quoting a frailty fit. The code is stable. */
export interface FrailtyNote {
  readonly code: "few-events-per-parameter" | "no-variance-found" | "few-clusters" | "late-entry";
  readonly text: string;
  /** The same without counts, for readers who may not know them. */
  readonly plain: string;
}

export interface FrailtyFit {
  readonly kind: "frailtyRegression";
  readonly settings: {
    readonly sameDay: Exclude<SameDayRule, "exact">;
    readonly event: readonly string[];
    readonly level: number;
    /** What shares a frailty, in one word. */
    readonly cluster: string;
    readonly fewestWithTwoEvents: number;
    readonly stratified: boolean;
    readonly delayedEntry: boolean;
  };
  readonly timeUnit: TimeUnit;
  readonly rows: number;
  /** Rows with an event; copies counted. */
  readonly events: number;
  readonly clusters: {
    readonly count: number;
    readonly withEvents: number;
    /** Two events or more: what tells a frailty from chance. */
    readonly withTwoEvents: number;
  };
  /** Ratios within a cluster: between knees of equal frailty. */
  readonly columns: readonly CoxColumn[];
  readonly terms: readonly TermTest[];
  readonly estimated: readonly string[];
  /** Of the coefficients, the variance of the frailty held at its estimate. */
  readonly covariance: readonly (readonly number[])[];
  /** Variance of the frailty, mean 1, with profile-likelihood limits. */
  readonly variance: ProfiledNumber;
  /** Likelihood-ratio test of no frailty; p is half the usual one, since the variance cannot be negative. */
  readonly varianceTest: { readonly chiSquare: number; readonly p: number };
  /** Median ratio of the hazards of two clusters drawn at random; limits from those of the variance. */
  readonly medianHazardRatio: ProfiledNumber;
  /** By cluster, in the order in which the observations name them. */
  readonly frailties: {
    readonly firstRow: readonly number[];
    readonly events: readonly number[];
    /** Its mean given what was seen: (1/θ + events) / (1/θ + expected). */
    readonly frailty: readonly number[];
  };
  /** Integrated over the frailties; meets the partial likelihood where the variance is 0. */
  readonly logLikelihood: number;
  readonly logLikelihoodWithout: number;
  readonly fit: FitReport;
  readonly notes: readonly FrailtyNote[];
  readonly lost: readonly RowsLost[];
}
