import { type Answer, computed, notComputed } from "../base/answer.ts";
import { requireFinite, requirePositive, requireProbability } from "../numeric/argument-checks.ts";
import type { Detection } from "./detection.ts";
import { detection } from "./detection.ts";
import type { PowerSettings } from "./events-required.ts";

export interface MeansInput extends Omit<PowerSettings, "exposedShare"> {
  /** Smallest difference of the means that is to be seen, in the unit of the measure. */
  readonly difference: number;
  /** Spread of the measure within each group, in the same unit. */
  readonly standardDeviation: number;
  /** Share of the units that are in the first group. Default 0.5. */
  readonly exposedShare?: number;
}

/** Units needed in two groups. */
export type TwoGroups<Input> = Answer<{
  /** Whole units, each rounded up: first group, second group. */
  readonly units: readonly [number, number];
  /** Of both groups together, before rounding. */
  readonly unrounded: number;
  readonly settings: Required<Input>;
}>;

/**
 * How many units two groups need to see a difference of means, such as a depth in millimetres.
 *
 * Normal quantiles: with fewer than about 15 in a group Student's would ask for one or two more. One spread for both
 * groups. No answer for a difference of 0 or an empty group. Source: any textbook, for example Bland, An Introduction to
 * Medical Statistics, on the size of samples.
 *
 * @example
 * unitsForMeans({ difference: 0.5, standardDeviation: 1.1 }); // 76 and 76
 */
export function unitsForMeans(input: MeansInput): TwoGroups<MeansInput> {
  const { difference, standardDeviation } = input;
  requireFinite("unitsForMeans", "difference", difference);
  requirePositive("unitsForMeans", "standardDeviation", standardDeviation);
  const groups = groupsOf("unitsForMeans", input);
  const { p, varianceFactor, detect } = groups;
  if (p === 0 || p === 1) return notComputed("one-group", "one of the groups is empty");
  if (difference === 0) return notComputed("no-difference", "a difference of 0 is none to be seen");
  const standardised = ((detect.toLimit + detect.toTruth) * standardDeviation) / difference;
  const unrounded = (varianceFactor * standardised * standardised) / (p * (1 - p));
  return splitUnits(unrounded, groups, { difference, standardDeviation });
}

interface Groups {
  readonly p: number;
  readonly varianceFactor: number;
  readonly detect: Detection;
}

/** What two groups have in common, whatever is measured on them. */
export function groupsOf(where: string, input: Partial<PowerSettings>): Groups {
  const { exposedShare: p = 0.5, varianceFactor = 1 } = input;
  requireProbability(where, "exposedShare", p);
  requirePositive(where, "varianceFactor", varianceFactor);
  return { p, varianceFactor, detect: detection(where, input) };
}

/** Units of both groups together, divided between them; none where they cannot be counted. */
export function splitUnits<Asked extends object>(
  unrounded: number,
  { p, varianceFactor, detect }: Groups,
  asked: Asked,
) {
  if (!Number.isSafeInteger(Math.ceil(unrounded))) {
    return notComputed("out-of-range", "more units than can be counted");
  }
  return computed({
    units: [Math.ceil(p * unrounded), Math.ceil((1 - p) * unrounded)] as const,
    unrounded,
    settings: { ...asked, exposedShare: p, varianceFactor, ...detect.settings },
  });
}
