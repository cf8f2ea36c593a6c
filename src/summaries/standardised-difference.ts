import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { describeNumbers, type NumberSummary } from "./describe-numbers.ts";

/** Difference in units of the spread, first minus second; the spread is always that of the unweighted values. */
export type StandardisedDifference = Answer<{ readonly value: number }>;

/** Part of a whole. */
export interface Part {
  readonly count: number;
  readonly total: number;
}

export interface NumberDifferenceOptions {
  /** Weights of the values, in their order. They move the means, never the spread. Default: all alike. */
  readonly weights?: { readonly first: ArrayLike<number>; readonly second: ArrayLike<number> };
}

export interface CategoryDifferenceOptions {
  /** Weighted sums by category. They move the shares, never the spread. Default: the counts themselves. */
  readonly weighted?: { readonly first: readonly number[]; readonly second: readonly number[] };
}

/**
 * How far apart the means of two groups are, in units of their spread.
 *
 * (mean of first − mean of second) / √((s₁² + s₂²) / 2) with sample variances (n − 1). Weighted means are divided by
 * the unweighted spread, so that values before and after weighting can be compared. Not defined where neither group
 * has any spread and the means differ, or where a group holds fewer than two values; 0 where two groups without spread
 * are equal.
 *
 * Source: Yang and Dalton 2012.
 *
 * @example
 * standardisedDifference([60, 62, 65], [70, 71, 80]); // value −2.646896
 */
export function standardisedDifference(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  options: NumberDifferenceOptions = {},
): StandardisedDifference {
  const { weights } = options;
  const means = weights && {
    first: weightedMean(first, weights.first),
    second: weightedMean(second, weights.second),
  };
  return differenceOfSummaries(describeNumbers(first), describeNumbers(second), means);
}

/** As `standardisedDifference`, from summaries made before; `means` stand in for theirs where values are weighted. */
export function differenceOfSummaries(
  first: NumberSummary,
  second: NumberSummary,
  means?: { readonly first: number; readonly second: number },
): StandardisedDifference {
  if (!first.centre.computed) return first.centre;
  if (!second.centre.computed) return second.centre;
  if (!first.spread.computed) return first.spread;
  if (!second.spread.computed) return second.spread;
  const difference = (means?.first ?? first.centre.mean) - (means?.second ?? second.centre.mean);
  return overSpread(difference, square(first.spread.value), square(second.spread.value));
}

/**
 * How far apart two shares are, in units of their spread: (p₁ − p₂) / √((p₁(1 − p₁) + p₂(1 − p₂)) / 2).
 *
 * The spread has no n − 1. Not defined where both shares are 0 or 1 and differ. Source: Yang and Dalton 2012.
 *
 * @example
 * standardisedShareDifference({ count: 30, total: 100 }, { count: 10, total: 100 }); // value 0.5163978
 */
export function standardisedShareDifference(first: Part, second: Part): StandardisedDifference {
  const [a, b] = [shareOf(first), shareOf(second)];
  if (a === undefined || b === undefined) return noValues();
  return overSpread(a - b, a * (1 - a), b * (1 - b));
}

/**
 * How far apart two groups are over several categories, as one number from 0 up.
 *
 * The Mahalanobis form √(d′S⁻¹d): d holds the differences of the shares, S is the mean of the two multinomial
 * covariances, one category left out (which one changes nothing). With two categories it is the size of
 * `standardisedShareDifference`. Categories met in neither group are left aside. Not defined where no category is met
 * in both groups. Source: Yang and Dalton 2012.
 *
 * @example
 * standardisedCategoryDifference([30, 70], [10, 90]); // value 0.5163978
 */
export function standardisedCategoryDifference(
  first: readonly number[],
  second: readonly number[],
  options: CategoryDifferenceOptions = {},
): StandardisedDifference {
  const a = sharesOf(first);
  const b = sharesOf(second);
  if (a === undefined || b === undefined) return noValues();
  if (a.length !== b.length) {
    throw new ArgumentError(
      "standardisedCategoryDifference: both groups need the same categories, in one order",
    );
  }
  const { weighted } = options;
  const moved = weighted && { first: sharesOf(weighted.first), second: sharesOf(weighted.second) };
  if (moved !== undefined && (moved.first === undefined || moved.second === undefined)) return noValues();
  // With m the mean shares, S = M − d d′/4 where M is the covariance at m, and x′M⁻¹y = Σ xᵢyᵢ/mᵢ for parts that
  // sum to 0. So S⁻¹ follows in closed form, and 1 − d′M⁻¹d/4 = Σ aᵢbᵢ/mᵢ has only positive terms.
  let [between, withMoved, movedOnly, shared] = [0, 0, 0, 0];
  a.forEach((share, at) => {
    const other = b[at] ?? 0;
    const mean = (share + other) / 2;
    if (mean === 0) return;
    const difference = share - other;
    const shift = moved === undefined ? difference : (moved.first?.[at] ?? 0) - (moved.second?.[at] ?? 0);
    between += square(difference) / mean;
    withMoved += (shift * difference) / mean;
    movedOnly += square(shift) / mean;
    shared += (share * other) / mean;
  });
  if (shared === 0) return between === 0 ? computed({ value: 0 }) : noSpread();
  return computed({ value: Math.sqrt(movedOnly + square(withMoved) / (4 * shared)) });
}

function overSpread(
  difference: number,
  firstVariance: number,
  secondVariance: number,
): StandardisedDifference {
  const spread = Math.sqrt((firstVariance + secondVariance) / 2);
  if (difference === 0) return computed({ value: 0 });
  if (spread === 0) return noSpread();
  const value = difference / spread;
  return Number.isFinite(value) ? computed({ value }) : noSpread();
}

function weightedMean(values: ArrayLike<number>, weights: ArrayLike<number>): number {
  if (weights.length !== values.length) {
    throw new ArgumentError("standardisedDifference: weights must be as many as the values");
  }
  if (values.length === 0) return 0;
  // Around the first value, so that equal values have exactly that mean.
  const origin = values[0] ?? 0;
  let [total, sum] = [0, 0];
  for (let at = 0; at < values.length; at += 1) {
    const weight = weights[at] ?? 0;
    if (!(weight >= 0) || weight === Number.POSITIVE_INFINITY) {
      throw new ArgumentError("standardisedDifference: weights must be finite numbers from 0 up");
    }
    total += weight;
    sum += weight * ((values[at] ?? 0) - origin);
  }
  if (total === 0) throw new ArgumentError("standardisedDifference: at least one weight must be above 0");
  return origin + sum / total;
}

function shareOf({ count, total }: Part): number | undefined {
  if (!(count >= 0 && count <= total && Number.isFinite(total))) {
    throw new ArgumentError("standardisedShareDifference: count must lie between 0 and total");
  }
  return total === 0 ? undefined : count / total;
}

function sharesOf(counts: readonly number[]): number[] | undefined {
  if (!counts.every((count) => count >= 0 && Number.isFinite(count))) {
    throw new ArgumentError("standardisedCategoryDifference: counts must be finite numbers from 0 up");
  }
  const total = counts.reduce((sum, count) => sum + count, 0);
  return total === 0 ? undefined : counts.map((count) => count / total);
}

function square(value: number): number {
  return value * value;
}

function noValues(): NotComputed {
  return notComputed("no-values", "a group holds no values");
}

function noSpread(): NotComputed {
  return notComputed("no-spread", "the groups differ and have no spread to measure it by");
}
