import type { ClearedExhibit } from "../cleared.ts";
import { yearAt } from "../curve-plan.ts";
import type { ExhibitCurve } from "../exhibit.ts";
import type { Entry, Ledger } from "../ledger.ts";
import { knownFrom } from "../secondary.ts";
import { type Planned, placesOfCounts } from "./places-of-counts.ts";

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

/** The counts that are told, or follow. */
export function exactCounts({ counts }: ToldCounts): Map<string, number> {
  return new Map(
    counts.flatMap(({ key, low, high }) => (low !== undefined && low === high ? [[key, low]] : [])),
  );
}

/**
 * What a report tells about its counts, so that a later one for the same readers can be held against it.
 *
 * Nothing in it that is not on the page or follows from it: hidden counts have no number here either.
 */
export function toldCounts(
  ledger: Ledger,
  planned: readonly Planned[],
  cleared: readonly ClearedExhibit[],
): ToldCounts {
  const places = placesOfCounts(planned, cleared);
  const points = pointsOf(planned, cleared);
  const known = knownFrom(
    ledger,
    ({ key, isExact }) => isExact === true || places.get(key)?.isPrinted === true || points.has(key),
  );
  const own = ledger.entries.filter(({ isHeld }) => !isHeld);
  const at = new Map(own.map((entry, place) => [entry, place]));
  const counts = own.map(({ key, ...entry }) => {
    const where = places.get(key)?.first ?? points.get(key)?.where;
    // What every cell keeps back, for the sake of another count perhaps, is not said here either.
    const isKept = places.get(key)?.isPrinted === false && !entry.isExact && !points.has(key);
    const range = rangeOf(entry, known[entry.at] === true && !isKept, ledger.threshold);
    return { key, ...range, ...(where === undefined ? {} : { where }) };
  });
  const named = new Set(counts.map(({ key }) => key));
  return {
    // Points come last, so that the sums still find their counts by place.
    counts: [...counts, ...[...points.values()].filter(({ key }) => !named.has(key))],
    sums: ledger.balances.flatMap(({ total, members }) => {
      const [whole, ...parts] = members.map((entry) => at.get(entry));
      if (whole === undefined || parts.includes(undefined) || total.isHeld) return [];
      return [`${whole}=${parts.join("+")}`];
    }),
  };
}

/** A point of a line is turned back into events: whoever can reckon does so. */
function pointsOf(planned: readonly Planned[], cleared: readonly ClearedExhibit[]): Map<string, ToldCount> {
  const found = new Map<string, ToldCount>();
  for (const one of planned) {
    if (!("plans" in one)) continue;
    const shown = cleared.find(({ id }) => id === one.exhibit.id);
    if (shown?.kind !== "curves") continue;
    for (const { curve } of one.plans) {
      const line = shown.curves.find(({ label, asBefore }) => label === curve.label && !asBefore);
      for (const [at, tick] of (line?.time ?? []).entries()) {
        if (at === 0) continue;
        const units = eventsBy(curve, tick);
        const key = `events/${curve.key}/to:${yearAt(tick, one.exhibit.timeUnit)}`;
        found.set(key, {
          key,
          low: units,
          high: units,
          where: `${one.exhibit.title}: line of ${curve.label}`,
        });
      }
    }
  }
  return found;
}

function eventsBy({ time, eventsAt }: ExhibitCurve, tick: number): number {
  return time.reduce((sum, other, at) => sum + (other <= tick ? (eventsAt[at] ?? 0) : 0), 0);
}

function rangeOf(
  entry: Pick<Entry, "units" | "about" | "isExact" | "hidden" | "near">,
  isKnown: boolean,
  threshold: number,
): { readonly low?: number; readonly high?: number } {
  const { units, about, isExact, hidden, near } = entry;
  if (about !== undefined && !isExact) return about;
  if (isKnown) return { low: units, high: units };
  // Its neighbours are known to differ by a few from the report before.
  if (hidden !== "held" || near === undefined) return {};
  return { low: Math.max(0, near.units - threshold + 1), high: near.units + threshold - 1 };
}
