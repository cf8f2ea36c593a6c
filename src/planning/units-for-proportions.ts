import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireInnerProbability, requireLevel, requireProbability } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import { groupsOf, type MeansInput, splitUnits, type TwoGroups } from "./units-for-means.ts";

/** Variance under the null taken from each group's own proportion, or from the pooled one as the usual test does. */
export const PROPORTION_VARIANCES = ["own", "pooled"] as const;

export interface ProportionsInput extends Omit<MeansInput, "difference" | "standardDeviation"> {
  /** Proportion in the first group and in the second. */
  readonly proportions: readonly [number, number];
  /** Default "own". */
  readonly variance?: (typeof PROPORTION_VARIANCES)[number];
}

/**
 * How many units two groups need to see a difference of proportions: lines on a film, a step kept to.
 *
 * Normal approximation without correction for continuity. "pooled" plans the test that pools the groups and asks for
 * slightly more. No answer where the proportions are equal or a group is empty. Source: Fleiss, Statistical Methods for
 * Rates and Proportions.
 *
 * @example
 * unitsForProportions({ proportions: [0.4, 0.25] }); // 150 and 150
 */
export function unitsForProportions(input: ProportionsInput): TwoGroups<ProportionsInput> {
  const { proportions, variance = "own" } = input;
  for (const one of proportions) requireProbability("unitsForProportions", "each proportion", one);
  if (!PROPORTION_VARIANCES.includes(variance)) {
    throw new ArgumentError(
      `unitsForProportions: variance must be one of ${PROPORTION_VARIANCES.join(", ")}`,
    );
  }
  const groups = groupsOf("unitsForProportions", input);
  const { p, varianceFactor, detect } = groups;
  if (p === 0 || p === 1) return notComputed("one-group", "one of the groups is empty");
  const [first, second] = proportions;
  if (first === second) return notComputed("no-difference", "equal proportions are no difference to be seen");
  const mean = p * first + (1 - p) * second;
  const own = (first * (1 - first)) / p + (second * (1 - second)) / (1 - p);
  const alike = variance === "own" ? own : (mean * (1 - mean)) / (p * (1 - p));
  const distance = detect.toLimit * Math.sqrt(alike) + detect.toTruth * Math.sqrt(own);
  const standardised = distance / (first - second);
  return splitUnits(varianceFactor * standardised * standardised, groups, { proportions, variance });
}

export type UnitsForProportion = Answer<{
  readonly units: number;
  readonly unrounded: number;
}>;

/**
 * How many units are needed to state one proportion to within a margin, such as how often a step is done.
 *
 * Normal approximation: the interval reaches the margin to either side. Near 0 and 1 it asks for too few.
 *
 * @example
 * unitsForProportion({ proportion: 0.5, margin: 0.05 }); // 385
 */
export function unitsForProportion(input: {
  readonly proportion: number;
  readonly margin: number;
  /** Level of the interval. Default 0.95. */
  readonly level?: number;
}): UnitsForProportion {
  const { proportion, margin, level = 0.95 } = input;
  requireProbability("unitsForProportion", "proportion", proportion);
  requireInnerProbability("unitsForProportion", "margin", margin);
  requireLevel("unitsForProportion", level);
  if (proportion === 0 || proportion === 1) {
    return notComputed("no-spread", "a proportion of 0 or 1 has no spread to plan with");
  }
  const z = normalUpperQuantile((1 - level) / 2);
  const unrounded = (z * z * proportion * (1 - proportion)) / (margin * margin);
  if (!Number.isSafeInteger(Math.ceil(unrounded))) {
    return notComputed("out-of-range", "more units than can be counted");
  }
  return computed({ units: Math.ceil(unrounded), unrounded });
}
