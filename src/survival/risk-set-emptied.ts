import { type NotComputed, notComputed } from "../base/answer.ts";
import type { TimeUnit } from "../base/time-unit.ts";

/**
 * Why an estimate means nothing after a tick that left nobody under observation although others entered later, or
 * undefined where that did not happen by `tick`.
 */
export function riskSetEmptied(
  time: ArrayLike<number>,
  atRisk: ArrayLike<number>,
  eventFree: ArrayLike<number>,
  tick: number,
  timeUnit: TimeUnit,
): NotComputed | undefined {
  let lastAtRisk = atRisk.length - 1;
  while (lastAtRisk > 0 && !((atRisk[lastAtRisk] ?? 0) > 0)) lastAtRisk--;
  for (let step = 0; step < lastAtRisk; step++) {
    const at = time[step] ?? 0;
    if (at > tick) return undefined;
    const isEmpty = eventFree[step] === 0 || ((atRisk[step] ?? 0) > 0 && atRisk[step + 1] === 0);
    if (isEmpty) {
      return notComputed(
        "risk-set-emptied",
        `on ${timeUnit.word} ${at} nobody was left under observation, although others came later`,
      );
    }
  }
  return undefined;
}
