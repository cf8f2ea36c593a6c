import { quantileSorted } from "d3-array";
import { mean as averageOf, sampleStandardDeviation } from "simple-statistics";
import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";

const TOO_LARGE = notComputed("out-of-range", "the values are too large to be summed");

export interface NumberSummary {
  /** Values present. */
  readonly n: number;
  /** Values missing, as the caller counted them. */
  readonly missing: number;
  readonly centre: Answer<{
    readonly mean: number;
    readonly lowerQuartile: number;
    readonly median: number;
    readonly upperQuartile: number;
    readonly minimum: number;
    readonly maximum: number;
  }>;
  /** Sample standard deviation (n − 1). */
  readonly spread: Answer<{ readonly value: number }>;
}

/**
 * What a set of numbers looks like: mean and standard deviation, median and quartiles, and the ends.
 *
 * Quartiles lie linearly between ordered values (type 7 of Hyndman and Fan 1996); the standard deviation divides by
 * n − 1 and is not defined for one value. Values that are missing must be left out before and can be counted here.
 *
 * @throws ArgumentError for a value that is not a finite number.
 *
 * @example
 * describeNumbers([61, 64, 66, 70, 71, 75, 79, 83]).centre; // median 70.5, quartiles 65.5 and 76
 */
export function describeNumbers(
  values: ArrayLike<number>,
  options: { readonly missing?: number } = {},
): NumberSummary {
  const { missing = 0 } = options;
  const sorted = Float64Array.from(values).sort();
  const n = sorted.length;
  const [minimum, maximum] = [sorted[0], sorted[n - 1]];
  if (minimum === undefined || maximum === undefined) {
    const none = notComputed("no-values", "no values");
    return { n, missing, centre: none, spread: none };
  }
  // Sorted, so that an infinity stands at an end and NaN (which sorts last) does too.
  if (!Number.isFinite(minimum) || !Number.isFinite(maximum)) {
    throw new ArgumentError(
      "describeNumbers: values must be finite numbers; leave missing ones out and count them",
    );
  }
  const mean = meanOf(sorted);
  if (!Number.isFinite(mean)) return { n, missing, centre: TOO_LARGE, spread: TOO_LARGE };
  return {
    n,
    missing,
    centre: computed({ ...quartiles(sorted), mean, minimum, maximum }),
    spread: spreadOf(sorted),
  };
}

function quartiles(sorted: Float64Array) {
  // The library skips what is not a number, which was ruled out, and answers undefined only for an empty list.
  const at = (share: number) => quantileSorted(asList(sorted), share) ?? 0;
  return { lowerQuartile: at(0.25), median: at(0.5), upperQuartile: at(0.75) };
}

function meanOf(sorted: Float64Array): number {
  // Equal values have exactly that mean and no spread; sums would leave a residue in the last digit.
  return isConstant(sorted) ? (sorted[0] ?? 0) : averageOf(asList(sorted));
}

function spreadOf(sorted: Float64Array): NumberSummary["spread"] {
  if (sorted.length < 2) return notComputed("one-value", "one value has no spread");
  // `standardDeviation` of the library divides by n; this one divides by n − 1.
  const value = isConstant(sorted) ? 0 : sampleStandardDeviation(asList(sorted));
  return Number.isFinite(value) ? computed({ value }) : TOO_LARGE;
}

function isConstant(sorted: Float64Array): boolean {
  return sorted[0] === sorted[sorted.length - 1];
}

// Both libraries read by index and length alone, which a typed array has; copying a million numbers would buy nothing.
function asList(sorted: Float64Array): number[] {
  return sorted as unknown as number[];
}
