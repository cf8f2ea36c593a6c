import { type NotComputed, notComputed } from "../base/answer.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";
import { numbered } from "../base/words.ts";
import type { DrawnTo } from "./drawn-to.ts";

/** Why no value is given at a year, or undefined where it may be given: the same stop rule that ends the drawn curve. */
export function yearRefusal(
  year: number,
  { followedTo, drawnTo, timeUnit }: { followedTo: number; drawnTo: DrawnTo; timeUnit: TimeUnit },
): NotComputed | undefined {
  const tick = tickOfYear(year, timeUnit);
  if (tick > followedTo) {
    return notComputed("beyond-follow-up", `nobody was followed for ${numbered(year, "year")}`);
  }
  if (!drawnTo.computed) return drawnTo;
  if (tick <= drawnTo.tick) return undefined;
  // Never the floor itself: a tenth of the largest number at risk would tell the size of the group.
  return notComputed("too-few-at-risk", `too few were still at risk at ${numbered(year, "year")}`);
}
