import { ArgumentError } from "../base/errors.ts";
import { adjustedP, P_ADJUSTMENTS, type PAdjustment } from "../numeric/adjusted-p.ts";
import { requireProbability } from "../numeric/argument-checks.ts";

export interface AdjustedPValues {
  readonly method: PAdjustment;
  /** In the order given; each to be compared with the level as it stands. */
  readonly adjusted: readonly number[];
}

/**
 * p-values that say what they are worth when several questions were asked at once.
 *
 * Holm 1979 holds under any dependence. The false discovery rate is that of Benjamini and Hochberg 1995, for tests that
 * are independent or depend positively. The order of the input does not matter, equal values stay equal.
 *
 * @example
 * adjustForMultiplicity([0.01, 0.04, 0.03]).adjusted; // [0.03, 0.06, 0.06]
 */
export function adjustForMultiplicity(
  pValues: readonly number[],
  options: { readonly method?: PAdjustment } = {},
): AdjustedPValues {
  const { method = "holm" } = options;
  if (!P_ADJUSTMENTS.includes(method)) {
    throw new ArgumentError(`adjustForMultiplicity: method must be one of ${P_ADJUSTMENTS.join(", ")}`);
  }
  for (const p of pValues) requireProbability("adjustForMultiplicity", "each p", p);
  return { method, adjusted: adjustedP(pValues, method) };
}
