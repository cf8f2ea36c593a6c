import { binomialLimits } from "../numeric/binomial.ts";
import type { IntervalScale, LimitSource } from "./results.ts";

/** Limits of survival at one step, or why there are none. */
export interface SurvivalLimits {
  readonly lower: number | null;
  readonly upper: number | null;
  readonly limits: LimitSource;
}

export interface SurvivalLimitOptions {
  readonly level: number;
  readonly scale: IntervalScale;
  /** Normal or t quantile of the level; absent where the spread cannot be estimated from a single cluster. */
  readonly quantile: number | undefined;
}

/**
 * Interval for survival.
 *
 * Before any event the standard error is 0 and says nothing: there the lower limit is the exact binomial one on the
 * number at risk. At survival 0 no scale has limits.
 */
export function survivalLimits(
  survival: number,
  standardError: number,
  atRisk: number,
  options: SurvivalLimitOptions,
): SurvivalLimits {
  return survival === 1
    ? noneSeen(atRisk, options.level)
    : limitsByVariance(survival, standardError, options);
}

/** The interval where no number at risk stands behind the survival: none before any event. */
export function limitsByVariance(
  survival: number,
  standardError: number,
  { scale, quantile }: Pick<SurvivalLimitOptions, "scale" | "quantile">,
): SurvivalLimits {
  if (survival === 0) return { lower: null, upper: null, limits: "nobody left" };
  if (quantile === undefined) return { lower: null, upper: null, limits: "one cluster" };
  // Never an interval of no width: events were seen, so a spread of 0 is one that cannot be seen.
  if (standardError === 0) return { lower: null, upper: null, limits: "no spread" };
  const half = quantile * standardError;
  if (scale === "log-minus-log") return logMinusLog(survival, half);
  return scale === "log" ? onLog(survival, half) : linear(survival, half);
}

function noneSeen(atRisk: number, level: number): SurvivalLimits {
  if (!(atRisk > 0)) return { lower: null, upper: null, limits: "nobody left" };
  return { lower: 1 - binomialLimits(0, atRisk, { level }).upper, upper: 1, limits: "none seen" };
}

function logMinusLog(survival: number, half: number): SurvivalLimits {
  const logSurvival = Math.log(survival);
  const factor = Math.exp(half / (survival * -logSurvival));
  return { lower: Math.exp(logSurvival * factor), upper: Math.exp(logSurvival / factor), limits: "variance" };
}

function onLog(survival: number, half: number): SurvivalLimits {
  const factor = Math.exp(half / survival);
  return { lower: survival / factor, upper: Math.min(1, survival * factor), limits: "variance" };
}

function linear(survival: number, half: number): SurvivalLimits {
  return { lower: Math.max(0, survival - half), upper: Math.min(1, survival + half), limits: "variance" };
}
