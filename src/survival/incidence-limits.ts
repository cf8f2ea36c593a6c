import { binomialLimits } from "../numeric/binomial.ts";
import type { IntervalScale, LimitSource } from "./results.ts";

/** Limits of an incidence at one step, or why there are none. */
export interface IncidenceLimits {
  readonly lower: number | null;
  readonly upper: number | null;
  readonly limits: LimitSource;
}

export interface IncidenceLimitOptions {
  readonly level: number;
  readonly scale: IntervalScale;
  /** Normal or t quantile of the level; absent where the spread cannot be estimated from a single cluster. */
  readonly quantile: number | undefined;
}

const CERTAIN = 1 - 1e-12;

/**
 * Interval for a cumulative incidence.
 *
 * Log-minus-log works on log(−log(1 − F)), so that without competing events it is one minus the survival interval; log
 * works on log F. With no event seen the upper limit is the exact binomial one for the number at risk.
 */
export function incidenceLimits(
  incidence: number,
  standardError: number,
  atRisk: number,
  options: IncidenceLimitOptions,
): IncidenceLimits {
  if (incidence === 0) return noneSeen(atRisk, options.level);
  if (incidence >= CERTAIN) return { lower: null, upper: null, limits: "nobody left" };
  if (options.quantile === undefined) return { lower: null, upper: null, limits: "one cluster" };
  // Never an interval of no width: events were seen, so a spread of 0 is one that cannot be seen.
  if (standardError === 0) return { lower: null, upper: null, limits: "no spread" };
  const half = options.quantile * standardError;
  const { lower, upper } = onScale(incidence, half, options.scale);
  return { lower, upper, limits: "variance" };
}

function noneSeen(atRisk: number, level: number): IncidenceLimits {
  if (!(atRisk > 0)) return { lower: null, upper: null, limits: "nobody left" };
  return { lower: 0, upper: binomialLimits(0, atRisk, { level }).upper, limits: "none seen" };
}

function onScale(incidence: number, half: number, scale: IntervalScale): { lower: number; upper: number } {
  if (scale === "linear")
    return { lower: Math.max(0, incidence - half), upper: Math.min(1, incidence + half) };
  if (scale === "log") {
    const factor = Math.exp(half / incidence);
    return { lower: incidence / factor, upper: Math.min(1, incidence * factor) };
  }
  // log1p and expm1: at 1 in 10,000 one minus the survival limit would have lost four digits.
  const logFree = Math.log1p(-incidence);
  const factor = Math.exp(half / ((1 - incidence) * -logFree));
  return { lower: -Math.expm1(logFree / factor), upper: -Math.expm1(logFree * factor) };
}
