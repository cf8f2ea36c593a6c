import { type CoarseNumbers, rangeWords, wholeStep } from "./coarse-numbers.ts";
import type { Cell } from "./exhibit.ts";

type Numbers = Extract<Cell, { kind: "numbers" }>;

/** A count that is not told, and the whole numbers it may be by what is told around it. */
export interface Candidates {
  readonly units: number;
  readonly low: number;
  readonly high: number;
  /** What one more of it changes, in printed units. */
  readonly oneMoreChanges: number;
}

/**
 * Estimate and limits widened until they hold for every number that a hidden count may be.
 *
 * Twenty revisions by year 10 are hidden where 22 in all are told, because the 2 between are few: they may be 18 to 21. The
 * estimate is that of the middle of these numbers, the limits are the outermost of all of them, and everything goes to
 * whole steps of at least one event: worked out from 18, 19 or 21, the same is printed. An interval's width
 * grows with the root of the events. The limits alone are printed. Undefined where the middle would be 0. A heuristic: shifts and widths are taken as
 * the same for every candidate.
 */
export function widenedNumbers(cell: Numbers, candidates: readonly Candidates[]): CoarseNumbers | undefined {
  const [estimate = 0, low = 0, high = 0] = cell.values;
  const isDifference = cell.oneMoreChanges?.some((change) => change < 0) ?? false;
  let [least, most] = [0, 0];
  let [lowWidth, highWidth] = [estimate - low, high - estimate];
  for (const { units, oneMoreChanges, ...range } of candidates) {
    const [fewer = 0, more = 0] = [range.low, range.high].map((other) => (other - units) * oneMoreChanges);
    least += Math.min(fewer, more);
    most += Math.max(fewer, more);
    const wider = Math.sqrt(range.high / Math.max(1, units));
    highWidth *= wider;
    // The other group's part of a difference's width does not shrink.
    lowWidth *= isDifference ? wider : Math.sqrt(range.low / Math.max(1, units));
  }
  const step = wholeStep(Math.max(...candidates.map(({ oneMoreChanges }) => Math.abs(oneMoreChanges))));
  const lowest = step * Math.floor((estimate + least - lowWidth) / step);
  const values = [
    step * Math.round((estimate + (least + most) / 2) / step) + 0,
    (isDifference ? lowest : Math.max(0, lowest)) + 0,
    step * Math.ceil((estimate + most + highWidth) / step) + 0,
  ];
  if (values[0] === 0 && !isDifference) return undefined;
  return { text: rangeWords(values), values, step };
}
