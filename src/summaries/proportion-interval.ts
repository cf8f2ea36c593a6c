import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireCount, requireLevel } from "../numeric/argument-checks.ts";
import { binomialLimits } from "../numeric/binomial.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import type { Part } from "./standardised-difference.ts";

/** "wilson": score limits, close to the level on average. "exact": Clopper–Pearson, never below the level. */
export const PROPORTION_METHODS = ["wilson", "exact"] as const;
export type ProportionMethod = (typeof PROPORTION_METHODS)[number];

export interface ProportionOptions {
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Default "wilson". */
  readonly method?: ProportionMethod;
}

export type ProportionInterval = Answer<{
  readonly share: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
  readonly method: ProportionMethod;
}>;

/**
 * Share of a whole, with the shares that chance alone would let stand beside it.
 *
 * The lower limit is exactly 0 where nobody is counted and the upper exactly 1 where everybody is. No share of nobody.
 * Sources: Wilson 1927 (no continuity correction); Clopper and Pearson 1934.
 *
 * @example
 * proportionInterval({ count: 0, total: 20 }); // share 0, low 0, high 0.1611
 */
export function proportionInterval(part: Part, options: ProportionOptions = {}): ProportionInterval {
  const { level = 0.95, method = "wilson" } = options;
  requirePart("proportionInterval", part);
  requireLevel("proportionInterval", level);
  if (!PROPORTION_METHODS.includes(method)) {
    throw new ArgumentError(`proportionInterval: method must be one of ${PROPORTION_METHODS.join(", ")}`);
  }
  const { count, total } = part;
  if (total === 0) return notComputed("no-cases", "no cases");
  const [low, high] = method === "wilson" ? wilsonLimits(part, level) : exactLimits(part, level);
  return computed({ share: count / total, low, high, level, method });
}

/** Refuses a part that is not a whole number of a whole number of cases. */
export function requirePart(where: string, { count, total }: Part): void {
  requireCount(where, "count", count);
  requireCount(where, "total", total);
  if (count > total) {
    throw new ArgumentError(`${where}: count must not exceed total; received ${count} of ${total}`);
  }
}

/** Wilson's score limits; `total` must be above 0. */
export function wilsonLimits({ count, total }: Part, level: number): readonly [number, number] {
  const z = normalUpperQuantile((1 - level) / 2);
  const halfSpread = z * Math.sqrt(z * z + (4 * count * (total - count)) / total);
  const high = (2 * count + z * z + halfSpread) / (2 * (total + z * z));
  // The product of the roots gives the lower one without the subtraction that would eat its digits.
  const low = ((count / total) * count) / ((total + z * z) * high);
  return [low, count === total ? 1 : high];
}

function exactLimits({ count, total }: Part, level: number): readonly [number, number] {
  const { lower, upper } = binomialLimits(count, total, { level });
  return [lower, upper];
}
