import { ArgumentError } from "../base/errors.ts";
import { SMALL_SAMPLE, type SmallSample } from "../survival/few-clusters.ts";
import type { Clusters, Observations } from "../survival/observations.ts";
import { SAME_DAY_RULES, type SameDayRule } from "./cox-hazard.ts";
import { COX_VARIANCES, type CoxVarianceKind } from "./cox-variance.ts";

export interface CoxOptions {
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
  /** How events on one tick share their risk set. Default "efron". */
  readonly sameDay?: SameDayRule;
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Default "clustered" where the observations name a cluster, "robust" with sampling weights, else "model". */
  readonly variance?: CoxVarianceKind;
  /** A second way in which rows belong together: the variance is first + second − both. */
  readonly secondCluster?: Clusters;
  /**
   * How the variance over few clusters is widened: "clusters" multiplies it by G / (G − 1); "shares" corrects the score of
   * each cluster for its own part of the information. Default "none".
   */
  readonly smallSample?: SmallSample;
}

/** What the observations call for where nothing is asked for. */
export function defaultVariance({ cluster, weight }: Observations): CoxVarianceKind {
  if (cluster !== undefined) return "clustered";
  return weight?.kind === "sampling" ? "robust" : "model";
}

/** Refuses options that exclude each other, or that the observations give no ground for. */
export function checkOptions(
  { cluster, weight }: Observations,
  {
    sameDay,
    variance,
    smallSample,
    secondCluster,
  }: Required<Pick<CoxOptions, "sameDay" | "variance" | "smallSample">> & CoxOptions,
): void {
  requireOneOf("sameDay", SAME_DAY_RULES, sameDay);
  requireOneOf("variance", COX_VARIANCES, variance);
  requireOneOf("smallSample", SMALL_SAMPLE, smallSample);
  if (variance === "clustered" && cluster === undefined) {
    throw new ArgumentError('coxRegression: variance "clustered" needs a cluster in the observations');
  }
  if (smallSample === "shares" && variance !== "clustered") {
    throw new ArgumentError('coxRegression: smallSample "shares" needs the variance "clustered"');
  }
  if (secondCluster !== undefined && variance !== "clustered") {
    throw new ArgumentError('coxRegression: a second cluster needs the variance "clustered" and a first one');
  }
  if (weight?.kind === "sampling" && variance === "model") {
    throw new ArgumentError(
      'coxRegression: with sampling weights the model has no variance; use "robust" or "clustered"',
    );
  }
  if (sameDay !== "exact") return;
  if (weight !== undefined) {
    throw new ArgumentError(
      'coxRegression: same-day rule "exact" takes no weights; use "efron" or "breslow"',
    );
  }
  if (variance !== "model") {
    throw new ArgumentError(
      `coxRegression: same-day rule "exact" has no ${variance} variance; use "efron", or the variance "model"`,
    );
  }
}

function requireOneOf(name: string, list: readonly string[], value: string): void {
  if (!list.includes(value))
    throw new ArgumentError(`coxRegression: ${name} must be one of ${list.join(", ")}`);
}
