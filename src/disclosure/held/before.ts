import type { ClearedCell, ClearedCurve } from "../cleared.ts";
import { chainsByTime } from "./chains.ts";
import type { HeldExhibit, HeldReport } from "./held-report.ts";
import { AS_BEFORE_MARK } from "./mark.ts";
import { cellsByPlace } from "./places.ts";
import { exactCounts } from "./told-counts.ts";
import { mayStand } from "./too-near.ts";

/** An exhibit as the readers hold it: what may be given once more in place of a number that changed by a few. */
export interface Before {
  cell(place: string): ClearedCell | undefined;
  line(label: string): ClearedCurve | undefined;
  /** Whether a line may have a point at this year with so many events; `counts` are those of the report to be made. */
  mayPoint(series: string, counts: ReadonlyMap<string, number>): (year: number, units: number) => boolean;
}

/**
 * The exhibit of this name in the reports that the readers hold; the last that has a number gives it.
 *
 * A report for readers who may see smaller counts gives nothing: its numbers would not pass here.
 */
export function before(reports: readonly HeldReport[], id: string, threshold: number): Before {
  const found = reports
    .filter((report) => report.threshold >= threshold)
    .flatMap(({ exhibits }) => exhibits.filter((exhibit) => exhibit.id === id))
    .reverse();
  const cells = found.map(cellsByPlace);
  return {
    cell(place) {
      const shown = cells.map((byPlace) => byPlace.get(place)).find((cell) => cell && !cell.hidden);
      return shown && shown.values.length > 0 ? marked(shown) : undefined;
    },
    line: (label) => found.flatMap(linesOf).find((line) => line.label === label),
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
