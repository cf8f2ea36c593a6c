import { ArgumentError } from "../base/errors.ts";
import { requireCount, requireLevel, requireProbability } from "./argument-checks.ts";
import { betaLowerQuantile, betaUpperQuantile } from "./beta-quantile.ts";
import { betaLower, betaUpper } from "./incomplete-beta.ts";

/** Chance of at most `count` successes in `trials`. */
export function binomialLower(count: number, trials: number, probability: number): number {
  check("binomialLower", count, trials);
  requireProbability("binomialLower", "probability", probability);
  return count === trials ? 1 : betaUpper(probability, count + 1, trials - count);
}

/** Chance of `count` successes or more in `trials`. */
export function binomialUpper(count: number, trials: number, probability: number): number {
  check("binomialUpper", count, trials);
  requireProbability("binomialUpper", "probability", probability);
  return count === 0 ? 1 : betaLower(probability, count, trials - count + 1);
}

/**
 * Exact limits for a proportion: each tail holds half of what the level leaves over (Clopper and Pearson 1934).
 *
 * With no success the lower limit is exactly 0, with nothing but successes the upper one exactly 1. `trials` may be
 * a fraction above 0 where it stands for an effective sample size; 0 trials have no limits and are refused.
 */
export function binomialLimits(
  count: number,
  trials: number,
  options: { readonly level?: number } = {},
): { readonly lower: number; readonly upper: number } {
  const { level = 0.95 } = options;
  requireLevel("binomialLimits", level);
  // Written so that NaN fails as well.
  if (!(trials > 0 && Number.isFinite(trials) && count >= 0 && count <= trials)) {
    throw new ArgumentError(
      `binomialLimits: trials must be above 0 and count between 0 and trials; received ${count} of ${trials}`,
    );
  }
  const tail = (1 - level) / 2;
  // At either end the limit is a root: (tail)^(1/trials), or one minus it.
  const logRoot = Math.log(tail) / trials;
  if (count === 0) return { lower: 0, upper: -Math.expm1(logRoot) };
  if (count === trials) return { lower: Math.exp(logRoot), upper: 1 };
  return {
    lower: betaLowerQuantile(tail, count, trials - count + 1),
    upper: betaUpperQuantile(tail, count + 1, trials - count),
  };
}

function check(where: string, count: number, trials: number): void {
  requireCount(where, "count", count);
  requireCount(where, "trials", trials);
  if (count > trials)
    throw new ArgumentError(`${where}: count must not exceed trials; received ${count} of ${trials}`);
}
