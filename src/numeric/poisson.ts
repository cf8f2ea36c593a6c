import { ArgumentError } from "../base/errors.ts";
import { requireCount, requireFinite, requireLevel } from "./argument-checks.ts";
import { gammaLowerQuantile, gammaUpperQuantile } from "./gamma-quantile.ts";
import { gammaLower, gammaUpper } from "./incomplete-gamma.ts";

/** Chance of at most `count` events where `mean` are expected. */
export function poissonLower(count: number, mean: number): number {
  check("poissonLower", count, mean);
  return gammaUpper(count + 1, mean);
}

/** Chance of `count` events or more where `mean` are expected. */
export function poissonUpper(count: number, mean: number): number {
  check("poissonUpper", count, mean);
  return count === 0 ? 1 : gammaLower(count, mean);
}

/**
 * Exact limits for the mean of a Poisson count: each tail holds half of what the level leaves over.
 *
 * At a count of 0 the lower limit is 0 and the upper one is the two-sided limit, 3.689 at 95 %.
 */
export function poissonLimits(
  count: number,
  options: { readonly level?: number } = {},
): {
  readonly lower: number;
  readonly upper: number;
} {
  const { level = 0.95 } = options;
  requireCount("poissonLimits", "count", count);
  requireLevel("poissonLimits", level);
  const tail = (1 - level) / 2;
  return {
    lower: count === 0 ? 0 : gammaLowerQuantile(tail, count),
    upper: gammaUpperQuantile(tail, count + 1),
  };
}

function check(where: string, count: number, mean: number): void {
  requireCount(where, "count", count);
  requireFinite(where, "mean", mean);
  if (mean < 0) throw new ArgumentError(`${where}: mean must not be negative; received ${mean}`);
}
