import type { Count } from "../../disclosure/exhibit.ts";
import type { GroupSize, ModelRows, Size } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { keys, sized } from "./cells.ts";

const NOBODY: Size = { units: 0, persons: 0 };

/**
 * The counts a model's numbers rest on: those of the rows in it. Where some are left out, these are other counts than the
 * printed ones, with keys of their own.
 */
export function modelCounts({ sizes, isEverybody }: ModelRows, { cause }: StudyFacts) {
  const key = (name: string) => (isEverybody ? name : keys.inModel(name));
  const count = (
    group: number,
    name: (size: GroupSize) => string,
    size: (size: GroupSize) => Size,
  ): Count[] => {
    const own = sizes[group];
    return own === undefined
      ? []
      : [sized(key(name(own)), size(own)), sized(key(keys.group(own.label)), own)];
  };
  return {
    /** Events and sizes of some groups over all follow-up. */
    events: (groups: readonly number[]): Count[] =>
      groups.flatMap((group) =>
        count(
          group,
          ({ label }) => keys.events(cause, label),
          ({ events }) => events,
        ),
      ),
    /** The same in one declared period. */
    inPeriod: (groups: readonly number[], period: number): Count[] =>
      groups.flatMap((group) =>
        count(
          group,
          ({ label }) => keys.eventsInPeriod(cause, label, period),
          ({ eventsByPeriod }) => eventsByPeriod[period] ?? NOBODY,
        ),
      ),
  };
}
