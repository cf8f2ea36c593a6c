import type { ClearedCell, ClearedCurve } from "../cleared.ts";
import type { Count } from "../exhibit.ts";
import { chainsByTime } from "./chains.ts";
import type { HeldExhibit, HeldReport } from "./held-report.ts";
import { AS_BEFORE_MARK } from "./mark.ts";
import { cellsByPlace } from "./places.ts";
import { exactCounts } from "./told-counts.ts";
import { mayStand } from "./too-near.ts";

/** An exhibit as the readers hold it: what may be given once more in place of a number that changed by a few. */
export interface Before {
  /** `counts` are all that the number rests on, as they are now. */
  cell(place: string, counts: readonly Count[]): ClearedCell | undefined;
  line(label: string, counts: readonly Count[]): ClearedCurve | undefined;
  /** Whether a line may have a point at this year with so many events; `counts` are those of the report to be made. */
  mayPoint(series: string, counts: ReadonlyMap<string, number>): (year: number, units: number) => boolean;
}

interface Asked {
  readonly id: string;
  readonly fresh?: true;
}

interface BeforeOptions {
  readonly threshold: number;
  /** What the numbers of the report to be made are numbers of; undefined where it does not say. */
  readonly definition: string | undefined;
}

/**
 * The exhibit of this name in the reports that the readers hold; the last that has a number gives it.
 *
 * A number is lent only where it is the same thing: by a report of the same definition, at the same place, and where every
 * count behind it is told there and differs from the one now by less than the threshold. A report for readers who may see
 * smaller counts lends nothing: its numbers would not pass here.
 */
export function before(
  reports: readonly HeldReport[],
  { id, fresh }: Asked,
  { threshold, definition }: BeforeOptions,
): Before {
  const lenders = reports
    .filter((report) => fresh === undefined && definition !== undefined && report.definition === definition)
    .filter((report) => report.threshold >= threshold)
    .map(({ exhibits, told }) => {
      const found = exhibits.filter((exhibit) => exhibit.id === id);
      const cells = new Map(found.flatMap((exhibit) => [...cellsByPlace(exhibit)]));
      return { cells, lines: found.flatMap(linesOf), told: exactCounts(told) };
    })
    .reverse();
  const nearTo = (counts: readonly Count[]) =>
    lenders.filter(({ told }) =>
      counts.every(({ key, units }) => Math.abs((told.get(key) ?? Infinity) - units) < threshold),
    );
  return {
    cell(place, counts) {
      const shown = nearTo(counts)
        .map(({ cells }) => cells.get(place))
        .find((cell) => cell && !cell.hidden && cell.values.length > 0);
      return shown && marked(shown);
    },
    line: (label, counts) =>
      nearTo(counts)
        .flatMap(({ lines }) => lines)
        .find((line) => line.label === label),
    mayPoint(series, counts) {
      const own = chainsByTime(counts).get(series) ?? [];
      const others = reports.flatMap(({ told }) => chainsByTime(exactCounts(told)).get(series) ?? []);
      return (year, units) => mayStand({ year, units }, own, others, threshold);
    },
  };
}

function marked(cell: ClearedCell): ClearedCell {
  const text = cell.asBefore ? cell.text : `${cell.text}${AS_BEFORE_MARK}`;
  return { ...cell, text, asBefore: true };
}

function linesOf(exhibit: HeldExhibit): readonly ClearedCurve[] {
  return exhibit.kind === "curves" ? exhibit.curves : [];
}
