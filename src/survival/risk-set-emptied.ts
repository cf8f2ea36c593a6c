import { type NotComputed, notComputed } from "../base/answer.ts";
import type { DrawnTo } from "./drawn-to.ts";

/**
 * Why an estimate means nothing after a tick that left nobody under observation although others entered later, or
 * undefined where that did not happen by `tick`.
 */
export function riskSetEmptied(
  time: ArrayLike<number>,
  atRisk: ArrayLike<number>,
  eventFree: ArrayLike<number>,
  tick: number,
): NotComputed | undefined {
  const emptied = emptiedAt(time, atRisk, eventFree);
  return emptied === null || emptied > tick ? undefined : emptiedRefusal();
}

/** The end of what may be drawn, unless a risk set emptied before it; the tick on which it emptied may still be drawn to. */
export function stopUnlessEmptied(stop: DrawnTo, emptied: number | null): DrawnTo {
  return !stop.computed || emptied === null || stop.tick <= emptied ? stop : emptiedRefusal();
}

/** Without the tick: it is one case's follow-up, and reasons are printed for every reader. */
export function emptiedRefusal(): NotComputed {
  return notComputed(
    "risk-set-emptied",
    "early on nobody was left under observation, although others came later",
  );
}

/** The first tick that left nobody at risk, or nobody free of the event, although others were at risk later. */
export function emptiedAt(
  time: ArrayLike<number>,
  atRisk: ArrayLike<number>,
  eventFree: ArrayLike<number>,
): number | null {
  let lastAtRisk = atRisk.length - 1;
  while (lastAtRisk > 0 && !((atRisk[lastAtRisk] ?? 0) > 0)) lastAtRisk--;
  for (let step = 0; step < lastAtRisk; step++) {
    const isEmpty = eventFree[step] === 0 || ((atRisk[step] ?? 0) > 0 && atRisk[step + 1] === 0);
    if (isEmpty) return time[step] ?? null;
  }
  return null;
}
