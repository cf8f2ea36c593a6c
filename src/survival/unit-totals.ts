import type { Observations } from "./observations.ts";
import { isInSpan, type RateSpan, ticksInSpan } from "./rate-spans.ts";
import type { Units } from "./units.ts";

/** Events and time of one group in one period, in all and by independent unit. */
export interface UnitTotals {
  /** Weighted. */
  events: number;
  ticks: number;
  /** Multiplied by the factor of each row (see `Units`), for sums of squares. */
  readonly eventsOf: Float64Array;
  readonly ticksOf: Float64Array;
  /** 1 for a unit under observation in the period. */
  readonly seen: Uint8Array;
}

/** One pass over the rows; one set of totals a group. */
export function unitTotals(
  { rows, exit, event, entry, weight, group }: Observations,
  wanted: readonly boolean[],
  span: RateSpan,
  units: Units,
): UnitTotals[] {
  const totals = group.labels.map(() => ({
    events: 0,
    ticks: 0,
    eventsOf: new Float64Array(units.count),
    ticksOf: new Float64Array(units.count),
    seen: new Uint8Array(units.count),
  }));
  for (let row = 0; row < rows; row += 1) {
    const own = totals[group.codes[row] ?? 0];
    const amount = weight?.values[row] ?? 1;
    if (own === undefined || amount === 0) continue;
    const last = exit[row] ?? 0;
    const ticks = ticksInSpan(entry?.[row] ?? 0, last, span);
    const events = isInSpan(last, span) && wanted[(event[row] ?? 0) - 1] === true ? 1 : 0;
    if (ticks === 0 && events === 0) continue;
    const unit = units.codes?.[row] ?? row;
    const factor = units.factor(row);
    own.events += amount * events;
    own.ticks += amount * ticks;
    own.eventsOf[unit]! += factor * events;
    own.ticksOf[unit]! += factor * ticks;
    own.seen[unit] = 1;
  }
  return totals;
}
