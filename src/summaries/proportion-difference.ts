import { type Answer, computed, notComputed } from "../base/answer.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { requirePart, wilsonLimits } from "./proportion-interval.ts";
import type { Part } from "./standardised-difference.ts";

export type ProportionDifference = Answer<{
  /** Share of the first minus share of the second. */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
}>;

/**
 * How much larger one share is than another, with limits that never leave −1 to 1.
 *
 * Newcombe's hybrid of the two Wilson intervals, without continuity correction; both groups are taken as independent.
 * Source: Newcombe 1998, method 10.
 *
 * @example
 * proportionDifference({ count: 56, total: 70 }, { count: 48, total: 80 }); // 0.2, limits 0.0524 and 0.3339
 */
export function proportionDifference(
  first: Part,
  second: Part,
  options: { readonly level?: number } = {},
): ProportionDifference {
  const { level = 0.95 } = options;
  requirePart("proportionDifference", first);
  requirePart("proportionDifference", second);
  requireLevel("proportionDifference", level);
  if (first.total === 0 || second.total === 0) return notComputed("no-cases", "a group holds no cases");
  const [a, b] = [first.count / first.total, second.count / second.total];
  const [firstLow, firstHigh] = wilsonLimits(first, level);
  const [secondLow, secondHigh] = wilsonLimits(second, level);
  const difference = a - b;
  return computed({
    difference,
    low: difference - distance(a - firstLow, secondHigh - b),
    high: difference + distance(firstHigh - a, b - secondLow),
    level,
  });
}

// Not Math.hypot, whose last digit differs between versions of the engine.
function distance(x: number, y: number): number {
  return Math.sqrt(x * x + y * y);
}
