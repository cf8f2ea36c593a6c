import { countsOf } from "../cell.ts";
import { type CurvePlan, countList, standingCounts } from "../curve-plan.ts";
import type { Count, CurveExhibit, FlowExhibit, TableExhibit } from "../exhibit.ts";
import type { Entry, Ledger } from "../ledger.ts";
import { knownCounts } from "../secondary.ts";

/** What readers of a report know of one of its counts. */
export interface ToldCount {
  /** As the exhibits name it: labels alone. */
  readonly key: string;
  /** Smallest and largest number that it may be: the same where it is told or follows by subtraction. Both left out where it is hidden. */
  readonly low?: number;
  readonly high?: number;
  /** Where a reader meets it first. */
  readonly where?: string;
}

/** Every count of a report as its readers know it, and which of them add up to which. */
export interface ToldCounts {
  readonly counts: readonly ToldCount[];
  /** "4=0+2": the fifth count is the first and the third together. */
  readonly sums: readonly string[];
}

/** A number at risk that is printed roughly is worked out without a hidden count, then rounded to 5. */
const ROUGH = 4;

/**
 * What a report tells about its counts, so that a later one for the same readers can be held against it.
 *
 * Nothing in it is not on the page, or follows from the page: hidden counts have no number here either.
 */
export function toldCounts(ledger: Ledger, exhibits: readonly Placed[]): ToldCounts {
  const known = knownCounts(ledger);
  const places = firstPlaces(exhibits);
  const own = ledger.entries.filter(({ isHeld }) => !isHeld);
  const at = new Map(own.map((entry, place) => [entry, place]));
  return {
    counts: own.map((entry) => {
      const where = places.get(entry.key);
      return {
        key: entry.key,
        ...rangeOf(entry, known[entry.at] === true, ledger.threshold),
        ...(where === undefined ? {} : { where }),
      };
    }),
    sums: ledger.balances.flatMap(({ total, members }) => {
      const [whole, ...parts] = members.map((entry) => at.get(entry));
      if (whole === undefined || parts.includes(undefined) || total.isHeld) return [];
      return [`${whole}=${parts.join("+")}`];
    }),
  };
}

function rangeOf(
  entry: Entry,
  isKnown: boolean,
  threshold: number,
): { readonly low?: number; readonly high?: number } {
  const { units, about, hidden, near } = entry;
  if (about !== undefined) return { low: Math.max(0, about - ROUGH), high: about + ROUGH };
  if (isKnown) return { low: units, high: units };
  // Its neighbours are known to differ by a few from the report before.
  if (hidden !== "held" || near === undefined) return {};
  return { low: Math.max(0, near.units - threshold + 1), high: near.units + threshold - 1 };
}

type Placed =
  | { readonly exhibit: TableExhibit | FlowExhibit | { readonly kind: "lines" } }
  | { readonly exhibit: CurveExhibit; readonly plans: readonly CurvePlan[] };

function firstPlaces(exhibits: readonly Placed[]): Map<string, string> {
  const found = new Map<string, string>();
  const note = (title: string, row: string, counts: readonly Count[]) => {
    for (const { key } of counts) if (!found.has(key)) found.set(key, `${title}: ${row}`);
  };
  for (const one of exhibits) {
    const { exhibit } = one;
    if (exhibit.kind === "table") {
      let heading = "";
      for (const { label, heading: isHeading, cells } of exhibit.rows) {
        if (isHeading) heading = `${label}, `;
        for (const cell of cells) note(exhibit.title, `${heading}${label}`, countsOf(cell));
      }
    }
    if (exhibit.kind === "flow") {
      for (const box of [
        ...exhibit.boxes.flatMap((each) => [each, ...(each.removed ?? [])]),
        ...exhibit.groups,
      ])
        note(exhibit.title, box.label, box.persons === undefined ? [box.units] : [box.units, box.persons]);
    }
    if (!("plans" in one)) continue;
    for (const plan of one.plans) {
      for (const standing of plan.landmarks) {
        const row = `${plan.curve.label}, ${standing.year} years`;
        note(one.exhibit.title, row, countList(standingCounts(plan, standing)));
      }
    }
  }
  return found;
}
