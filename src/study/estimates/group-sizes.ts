import { tickOfYear } from "../../base/time-unit.ts";
import { countUnits, type RowCodes } from "../../technique/row-codes.ts";
import type { StudyObservations } from "../observations.ts";
import type { GroupSize, Size } from "./estimates.ts";

/** How large each group is, and how many events it had in all, by year and by period. Events are of the first cause. */
export function groupSizes(
  { observations, rows }: StudyObservations,
  persons: RowCodes,
  years: readonly number[],
  periods: readonly number[],
): GroupSize[] {
  const { exit, event, group, timeUnit } = observations;
  const sizeOf = (wanted: (at: number) => boolean): Size => {
    const found: number[] = [];
    for (let at = 0; at < rows.length; at += 1) if (wanted(at)) found.push(rows[at] ?? 0);
    return countUnits(found, persons);
  };
  const ends = [...periods.map((year) => tickOfYear(year, timeUnit)), Number.POSITIVE_INFINITY];
  return group.labels.map((label, code) => {
    const member = (at: number) => group.codes[at] === code;
    const had = (at: number) => member(at) && event[at] === 1;
    const exitOf = (at: number) => exit[at] ?? 0;
    return {
      label,
      ...sizeOf(member),
      events: sizeOf(had),
      eventsByYear: years.map((year) => sizeOf((at) => had(at) && exitOf(at) <= tickOfYear(year, timeUnit))),
      eventsByPeriod: ends.map((end, at) => {
        const start = at === 0 ? Number.NEGATIVE_INFINITY : (ends[at - 1] ?? 0);
        return sizeOf((row) => had(row) && exitOf(row) > start && exitOf(row) <= end);
      }),
    };
  });
}
