import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import { poissonLimits, poissonLower, poissonUpper } from "../numeric/poisson.ts";
import { rootBetween } from "../numeric/root-between.ts";

/**
 * How limits of a count are found. "exact": each tail holds half of what the level leaves over, the count seen included.
 * "mid-p": the chance of the very count seen enters by half, so limits are narrower and hold the level only on average.
 * "byar": an approximation to the exact limits by a cube root, good to a few per cent from 5 events up.
 */
export const COUNT_LIMIT_METHODS = ["exact", "mid-p", "byar"] as const;
export type CountLimitMethod = (typeof COUNT_LIMIT_METHODS)[number];

export interface CountLimits {
  readonly lower: number;
  readonly upper: number;
}

/** Limits for the mean of a Poisson count. At a count of 0 the lower limit is 0. */
export function countLimits(count: number, level: number, method: CountLimitMethod): CountLimits {
  requireLevel("countLimits", level);
  if (method === "byar") return byarLimits(count, level);
  const exact = poissonLimits(count, { level });
  return method === "exact" ? exact : midLimits(count, (1 - level) / 2, exact);
}

/** Two-sided p of a count where a mean was expected: twice the smaller tail, at most 1; "mid-p" halves the count itself. */
export function countP(count: number, expected: number, method: CountLimitMethod): number {
  const { least, most } =
    method === "mid-p"
      ? midTails(count, expected)
      : { least: poissonUpper(count, expected), most: poissonLower(count, expected) };
  return Math.min(1, 2 * Math.min(least, most));
}

/** Chances of at least and of at most the count, the count itself by half. */
function midTails(count: number, mean: number): { least: number; most: number } {
  const below = count === 0 ? 0 : poissonLower(count - 1, mean);
  return {
    least: (poissonUpper(count, mean) + poissonUpper(count + 1, mean)) / 2,
    most: (poissonLower(count, mean) + below) / 2,
  };
}

// They lie between the count and the exact limits, because half of a tail is less than all of it.
function midLimits(count: number, tail: number, exact: CountLimits): CountLimits {
  const root = (excess: (mean: number) => number, low: number, high: number) =>
    rootBetween(excess, low, high).root;
  return {
    lower: count === 0 ? 0 : root((mean) => midTails(count, mean).least - tail, exact.lower, count),
    upper: root((mean) => midTails(count, mean).most - tail, count, exact.upper),
  };
}

/** Wilson and Hilferty's cube-root form of a chi-square quantile, at the count below and one above it. */
function byarLimits(count: number, level: number): CountLimits {
  const quantile = normalUpperQuantile((1 - level) / 2);
  const cubed = (events: number, side: 1 | -1) => {
    const root = 1 - 1 / (9 * events) + (side * quantile) / (3 * Math.sqrt(events));
    return root <= 0 ? 0 : events * root * root * root;
  };
  return { lower: count === 0 ? 0 : cubed(count, -1), upper: cubed(count + 1, 1) };
}

/** Refuses a method that is not among those a function offers. */
export function requireCountLimitMethod(
  where: string,
  method: CountLimitMethod,
  offered: readonly CountLimitMethod[],
): void {
  if (!offered.includes(method))
    throw new ArgumentError(`${where}: method must be one of ${offered.join(", ")}`);
}
