import { count as countText } from "../base/display.ts";
import { HIDDEN_CELL } from "./cell.ts";
import type { ClearedCell } from "./cleared.ts";
import type { Clearing } from "./clearing.ts";
import { type CurvePlan, countList, type Standing, standingCounts } from "./curve-plan.ts";
import { landmarkPlace } from "./held/places.ts";
import { type Entry, enterUnnamed, isShown, type Ledger, whyHidden } from "./ledger.ts";
import type { Limits } from "./limits.ts";

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
  const all = [...counts, { key: entry.key, units: entry.units }];
  const earlier =
    whyHidden(ledger, all) === "held"
      ? clearing.before.cell(landmarkPlace(plan.curve.label, "atRisk", at.year), all)
      : undefined;
  if (earlier !== undefined) {
    note("before");
    return earlier;
  }
  const left = isShown(entry)
    ? only(entry.units)
    : anyHidden && entry.hidden !== "small" && entry.hidden !== "held"
      ? withoutHidden(ledger, plan, at)
      : undefined;
  if (left === undefined) {
    note("hidden");
    return HIDDEN_CELL;
  }
  note("rounded");
  const units = Math.max(0, ROUNDED_TO * Math.round(left.middle / ROUNDED_TO));
  entry.about = narrower(entry.about, rangeOf(units, left));
  return rounded(units);
}

/** A number worked out with stand-ins, and what it may be by all that those may be. */
interface Range {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

function only(units: number): Range {
  return { low: units, middle: units, high: units };
}

/** What the true number may be, for a reader of the rounded one. */
function rangeOf(units: number, { low, middle, high }: Range): Limits {
  const half = Math.floor(ROUNDED_TO / 2);
  return {
    low: Math.max(0, units - half - (middle - low)),
    high: units + half + (high - middle),
  };
}

/** Under two curves of one group the same number may be rounded twice. */
function narrower(one: Limits | undefined, two: Limits): Limits {
  if (one === undefined) return two;
  return { low: Math.max(one.low, two.low), high: Math.min(one.high, two.high) };
}

/** Marked, so that nobody takes it for a count. */
function rounded(units: number): ClearedCell {
  return { text: `≈${countText(units)}`, values: [units], hidden: false, coarse: ROUNDED_TO };
}

function shown(units: number): ClearedCell {
  return { text: countText(units), values: [units], hidden: false };
}

/** Units less those gone, with a stand-in for each hidden count; undefined where one has an open range. */
function withoutHidden(ledger: Ledger, plan: CurvePlan, at: Standing): Range | undefined {
  // With delayed entry, who is not gone need not have come.
  if (plan.delayedEntry) return undefined;
  const size = ledger.byKey.get(plan.groupKey);
  let left = size?.hidden === undefined ? only(plan.curve.units) : nearHeld(ledger, size);
  if (left === undefined) return undefined;
  for (const place of countList(standingCounts(plan, at)).keys()) {
    const gone = standIn(ledger, plan, at, place);
    if (gone === undefined) return undefined;
    left = {
      low: left.low - gone.high,
      middle: left.middle - gone.middle,
      high: left.high - gone.low,
    };
  }
  return left;
}

/** The count itself where it is shown; the middle of its range where it is too near a shown one. */
function standIn(ledger: Ledger, plan: CurvePlan, at: Standing, place: number): Range | undefined {
  const entry = entryOf(ledger, plan, at, place);
  if (entry === undefined) return undefined;
  if (isShown(entry)) return only(entry.units);
  const most = ledger.threshold - 1;
  if (entry.hidden === "held") return nearHeld(ledger, entry);
  if (entry.hidden !== "small") return undefined;
  const others = plan.landmarks
    .filter((other) => other.tick > 0)
    .flatMap((other) => entryOf(ledger, plan, other, place) ?? [])
    .filter(isShown)
    .map((other) => other.units);
  const below = Math.max(0, ...others.filter((units) => units <= entry.units));
  const above = Math.min(...others.filter((units) => units > entry.units));
  const middle = Math.floor(ledger.threshold / 2);
  if (entry.units - below <= most) return { low: below, middle: below + middle, high: below + most };
  return above - entry.units <= most ? { low: above - most, middle: above - middle, high: above } : undefined;
}

/** A number that is a few apart from the one that readers hold may be that one, as far as they are told. */
function nearHeld({ threshold }: Ledger, { hidden, near }: Entry): Range | undefined {
  if (hidden !== "held" || near === undefined) return undefined;
  const most = threshold - 1;
  return { low: Math.max(0, near.units - most), middle: near.units, high: near.units + most };
}

function entryOf(ledger: Ledger, plan: CurvePlan, at: Standing, place: number): Entry | undefined {
  const count = countList(standingCounts(plan, at))[place];
  return count === undefined ? undefined : ledger.byKey.get(count.key);
}
