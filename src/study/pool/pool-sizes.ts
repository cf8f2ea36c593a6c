import { tickOfYear } from "../../base/time-unit.ts";
import type { CountsByTime } from "../../survival/counts.ts";
import type { GroupSize, Size } from "../estimates/estimates.ts";
import type { PoolFacts } from "./pool-facts.ts";

/** How large each group is, and how many events it had in all, by year and by period, from counts alone. */
export function poolSizes(counts: CountsByTime, facts: PoolFacts, periods: readonly number[]): GroupSize[] {
  const cause = counts.causes.indexOf(facts.cause);
  const { timeUnit, years } = facts;
  const ends = [...periods.map((year) => tickOfYear(year, timeUnit)), Number.POSITIVE_INFINITY];
  return counts.groups.map((label, group) => {
    const cells = counts.cells.filter((cell) => cell.group === group);
    const eventsIn = (after: number, upTo: number) =>
      cells.reduce(
        (sum, { time, events }) =>
          sum +
          time.reduce(
            (own, tick, at) => own + (tick > after && tick <= upTo ? (events[cause]?.[at] ?? 0) : 0),
            0,
          ),
        0,
      );
    const size = (units: number) => sizeOfUnits(units, facts);
    return {
      label,
      ...size(cells.reduce((sum, { cases }) => sum + cases, 0)),
      events: size(eventsIn(BEFORE_START, Number.POSITIVE_INFINITY)),
      eventsByYear: years.map((year) => size(eventsIn(BEFORE_START, tickOfYear(year, timeUnit)))),
      eventsByPeriod: ends.map((end, at) =>
        size(eventsIn(at === 0 ? BEFORE_START : (ends[at - 1] ?? 0), end)),
      ),
    };
  });
}

/** An event on tick 0 belongs to the first period. */
const BEFORE_START = -1;

/**
 * Units with the fewest persons who can own them.
 *
 * Counts do not say who owns what, so disclosure control must reckon with the worst: everybody with as many units as
 * a person can have.
 */
export function sizeOfUnits(units: number, { mostPerPerson }: Pick<PoolFacts, "mostPerPerson">): Size {
  return { units, persons: Math.ceil(units / mostPerPerson) };
}
