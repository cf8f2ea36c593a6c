import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireCount, requireLevel } from "../numeric/argument-checks.ts";
import {
  COUNT_LIMIT_METHODS,
  type CountLimitMethod,
  countLimits,
  countP,
  requireCountLimitMethod,
} from "./count-limits.ts";

export interface ObservedAgainstExpectedOptions {
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** How the limits of the observed count are found. Default "exact". */
  readonly method?: CountLimitMethod;
}

export interface ObservedAgainstExpected {
  readonly kind: "observedAgainstExpected";
  readonly settings: { readonly level: number; readonly method: CountLimitMethod };
  readonly observed: number;
  readonly expected: number;
  /** Observed over expected: 1 where as many happened as were expected. */
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
  /** Two-sided: twice the smaller Poisson tail, at most 1. "mid-p" halves the chance of the count seen; "byar" uses the exact p. */
  readonly p: number;
}

/**
 * Whether more or fewer events were seen than a table of rates would have led one to expect.
 *
 * The limits are those of a Poisson count over the expected number, which counts as known. With no event seen the lower
 * limit is 0 and the upper one stays. Refused as a value where nothing was expected: no ratio exists then.
 *
 * Source: exact limits after Garwood 1936; Byar's approximation as in Breslow and Day 1987, section 2.3.
 *
 * @throws ArgumentError for an observed number that is no count or an expected number that is negative or not finite.
 *
 * @example
 * observedAgainstExpected(8, 4.2); // ratio 1.90, 0.82 to 3.75
 */
export function observedAgainstExpected(
  observed: number,
  expected: number,
  options: ObservedAgainstExpectedOptions = {},
): Answer<ObservedAgainstExpected> {
  const { level = 0.95, method = "exact" } = options;
  requireLevel("observedAgainstExpected", level);
  requireCount("observedAgainstExpected", "observed", observed);
  requireCountLimitMethod("observedAgainstExpected", method, COUNT_LIMIT_METHODS);
  // Written so that NaN fails as well.
  if (!(expected >= 0 && expected < Number.POSITIVE_INFINITY)) {
    throw new ArgumentError("observedAgainstExpected: expected must be a finite number from 0 up");
  }
  if (expected === 0) return notComputed("nothing-expected", "no event was expected, so there is no ratio");
  const { lower, upper } = countLimits(observed, level, method);
  const result = { ratio: observed / expected, lower: lower / expected, upper: upper / expected };
  if (!Number.isFinite(result.upper)) {
    return notComputed("nothing-expected", "so little was expected that the ratio is beyond all numbers");
  }
  return computed({
    kind: "observedAgainstExpected",
    settings: { level, method },
    observed,
    expected,
    ...result,
    p: countP(observed, expected, method),
  });
}
