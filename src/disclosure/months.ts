import type { TimeUnit } from "../base/time-unit.ts";

/** The last whole tick that lies within the given number of months. */
export function tickOfMonth(month: number, unit: TimeUnit): number {
  return Math.floor((month * unit.perYear) / 12);
}

/** The last tick of the month in which a tick lies; follow-up in years stays as it is. */
export function monthTickAtOrAfter(tick: number, unit: TimeUnit): number {
  return tickOfMonth(monthAtOrAfter(tick, unit), unit);
}

/** The last month's end that is not after a tick. */
export function monthTickAtOrBefore(tick: number, unit: TimeUnit): number {
  const month = monthAtOrAfter(tick, unit);
  return tickOfMonth(month, unit) === tick ? tick : tickOfMonth(month - 1, unit);
}

function monthAtOrAfter(tick: number, unit: TimeUnit): number {
  let month = Math.max(0, Math.floor((12 * tick) / unit.perYear) - 1);
  while (tickOfMonth(month, unit) < tick) month += 1;
  return month;
}
