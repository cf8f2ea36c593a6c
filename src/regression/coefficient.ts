import type { Answer } from "../base/answer.ts";
import type { ModelTest } from "./cox-result.ts";

/** A coefficient with its interval, in the caller's units. */
export interface Coefficient {
  readonly estimate: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  /** estimate / standardError. */
  readonly statistic: number;
  readonly p: number;
  /** exp of the estimate and its limits, where that is an odds ratio or a ratio of hazards. */
  readonly ratio?: { readonly value: number; readonly lower: number; readonly upper: number };
}

/** What can be said of a column along which the likelihood rises for ever. Model-based, whatever the variance. */
export interface Separation {
  readonly tends: "up" | "down";
  readonly likelihoodRatio: Answer<ModelTest>;
  /** The one limit that exists: the coefficient lies above "lower", or below "upper". */
  readonly limit: Answer<{ readonly side: "lower" | "upper"; readonly value: number }>;
}

/** One column of a model, or the constant, with what the fit says of it. */
export interface FittedColumn {
  readonly column: string;
  readonly term: string;
  readonly coefficient: Answer<Coefficient>;
  readonly separation?: Separation;
}

/** Tests that all coefficients of a term are 0. */
export interface FittedTerm {
  readonly term: string;
  readonly wald: Answer<ModelTest>;
  readonly likelihoodRatio: Answer<ModelTest>;
}
