import { type Answer, computed, notComputed } from "../base/answer.ts";

/** Fewest at risk with whom a curve is drawn or a year value printed. */
export const AT_RISK_LEAST = 40;
/** The same as a share of the group's largest number at risk. */
export const AT_RISK_SHARE = 0.1;

/** Last tick of a curve that may be drawn or printed, and the number at risk that decided it. */
export type DrawnTo = Answer<{ readonly tick: number; readonly atRiskFloor: number }>;

/**
 * The last tick up to which enough are at risk to draw a curve.
 *
 * Enough is max(40, 10 % of the group's largest number at risk), counted in knees, not weights. Counting starts on the
 * first tick with enough at risk, which with delayed entry may be late, and stops before the first tick with fewer.
 *
 * @param time Ascending ticks at which anything happened.
 * @param atRisk At risk at each of them.
 */
export function drawnTo(time: ArrayLike<number>, atRisk: ArrayLike<number>): DrawnTo {
  let largest = 0;
  for (let step = 0; step < atRisk.length; step += 1) largest = Math.max(largest, atRisk[step] ?? 0);
  const atRiskFloor = Math.max(AT_RISK_LEAST, AT_RISK_SHARE * largest);
  if (largest < atRiskFloor) {
    return notComputed(
      "group-too-small-to-draw",
      `fewer than ${AT_RISK_LEAST} were ever at risk at one time, so only rates are given`,
    );
  }
  let last = 0;
  while ((atRisk[last] ?? 0) < atRiskFloor) last += 1;
  while ((atRisk[last + 1] ?? 0) >= atRiskFloor) last += 1;
  return computed({ tick: time[last] ?? 0, atRiskFloor });
}
