import { tickOfYear } from "../../base/time-unit.ts";
import type { Observations } from "../../survival/observations.ts";

/** Under this many events in all a period is joined with the next. */
const LEAST_EVENTS = 10;

/**
 * Ends of the periods after joining those with too few events, without a look at the groups.
 *
 * A last period with too few is joined with the one before it.
 */
export function mergePeriods({ exit, event, timeUnit }: Observations, periods: readonly number[]): number[] {
  const eventsUpTo = (year: number) => {
    const tick = tickOfYear(year, timeUnit);
    return event.reduce((sum, cause, at) => sum + (cause === 1 && (exit[at] ?? 0) <= tick ? 1 : 0), 0);
  };
  const all = event.reduce((sum, cause) => sum + (cause === 1 ? 1 : 0), 0);
  const kept: number[] = [];
  let before = 0;
  for (const year of periods) {
    const upTo = eventsUpTo(year);
    if (upTo - before < LEAST_EVENTS) continue;
    kept.push(year);
    before = upTo;
  }
  if (all - before < LEAST_EVENTS) kept.pop();
  return kept;
}
