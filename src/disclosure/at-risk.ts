import { count as countText } from "../base/display.ts";
import { HIDDEN_CELL } from "./cell.ts";
import type { ClearedCell } from "./cleared.ts";
import type { Clearing } from "./clearing.ts";
import { type CurvePlan, countList, type Standing, standingCounts } from "./curve-plan.ts";
import type { Count } from "./exhibit.ts";
import { landmarkPlace } from "./held/places.ts";
import { type Entry, enterUnnamed, isShown, type Ledger, whyHidden } from "./ledger.ts";

const ROUNDED_TO = 5;

/** Notes who is at risk; curves of one group share that, whatever their events are. */
export function enterAtRisk(ledger: Ledger, plan: CurvePlan, at: Standing, places = 1): Entry {
  const isStart = at.tick === 0 && !plan.delayedEntry;
  const key = isStart ? plan.groupKey : `at risk/${plan.groupKey}/at:${at.year}`;
  return enterUnnamed(ledger, key, at.atRisk, places);
}

/**
 * The number at risk at a year: exact, rounded to 5 where events or censored are hidden, or hidden.
 *
 * Units less at risk would give a hidden count back to within 2. So the rounded number is worked out from what is
 * shown, with the middle of its range in the place of a hidden count: it tells nothing about that count. Where a
 * count is hidden for the sake of another one, its range is open, and at risk is hidden with it.
 */
export function clearAtRisk(clearing: Clearing, plan: CurvePlan, at: Standing): ClearedCell {
  const { ledger, note } = clearing;
  const entry = enterAtRisk(ledger, plan, at, 0);
  const counts = at.tick === 0 ? [] : countList(standingCounts(plan, at));
  const anyHidden = whyHidden(ledger, counts) !== undefined;
  if (isShown(entry) && !anyHidden) {
    // Exact under one curve of the group, whatever stands under another.
    entry.isExact = true;
    return shown(entry.units);
  }
  const earlier = clearing.before.cell(landmarkPlace(plan.curve.label, "atRisk", at.year));
  const units = isShown(entry) ? entry.units : anyHidden ? withoutHidden(ledger, plan, at) : undefined;
  const isRounded = units !== undefined && entry.hidden !== "small" && entry.hidden !== "held";
  if (earlier !== undefined && (!isRounded || isAsBefore(ledger, entry, counts))) {
    note("before");
    return earlier;
  }
  if (!isRounded) {
    note("hidden");
    return HIDDEN_CELL;
  }
  note("rounded");
  const about = Math.max(0, ROUNDED_TO * Math.round(units / ROUNDED_TO));
  entry.about = about;
  return rounded(about);
}

/** What may not be told here is so for the sake of a report that the readers hold, and at risk is unchanged too. */
function isAsBefore(ledger: Ledger, entry: Entry, counts: readonly Count[]): boolean {
  const why = whyHidden(ledger, counts);
  if (entry.hidden === "held") return why === undefined || why === "held";
  return why === "held" && entry.before === entry.units;
}

/** Marked, so that nobody takes it for a count. */
function rounded(units: number): ClearedCell {
  return { text: `≈${countText(units)}`, values: [units], hidden: false, coarse: ROUNDED_TO };
}

function shown(units: number): ClearedCell {
  return { text: countText(units), values: [units], hidden: false };
}

/** Units less those gone, with a stand-in for each hidden count; undefined where one has an open range. */
function withoutHidden(ledger: Ledger, plan: CurvePlan, at: Standing): number | undefined {
  let left = plan.curve.units;
  for (const place of countList(standingCounts(plan, at)).keys()) {
    const gone = standIn(ledger, plan, at, place);
    if (gone === undefined) return undefined;
    left -= gone;
  }
  return left;
}

/** The count itself where it is shown; the middle of its range where it is too near a shown one. */
function standIn(ledger: Ledger, plan: CurvePlan, at: Standing, place: number): number | undefined {
  const entry = entryOf(ledger, plan, at, place);
  if (entry === undefined || isShown(entry)) return entry?.units;
  if (entry.hidden === "held") return entry.near?.units;
  if (entry.hidden !== "small") return undefined;
  const others = plan.landmarks
    .filter((other) => other.tick > 0)
    .flatMap((other) => entryOf(ledger, plan, other, place) ?? [])
    .filter(isShown)
    .map((other) => other.units);
  const below = Math.max(0, ...others.filter((units) => units <= entry.units));
  const above = Math.min(...others.filter((units) => units > entry.units));
  const middle = Math.floor(ledger.threshold / 2);
  if (entry.units - below < ledger.threshold) return below + middle;
  return above - entry.units < ledger.threshold ? above - middle : undefined;
}

function entryOf(ledger: Ledger, plan: CurvePlan, at: Standing, place: number): Entry | undefined {
  const count = countList(standingCounts(plan, at))[place];
  return count === undefined ? undefined : ledger.byKey.get(count.key);
}
