import { fixed } from "../base/display.ts";
import { tickOfYear, yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCell, ClearedCurve, ClearedCurves } from "./cleared.ts";
import { AS_BEFORE_MARK } from "./held/mark.ts";

/** As many as analysts get; fewer than a double has, so that 1000 × 0.0059 is 5.9. */
const DIGITS = 12;

/** What a cleared curve says at one time. */
export interface CurveReading {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

/** How shares of this exhibit are printed: crude risk per 1000 units, net risk in per cent. */
export interface ShareScale {
  readonly factor: number;
  /** "per 1000" or "%". */
  readonly word: string;
  /** The share as printed, without the word. */
  text(share: number): string;
}

/**
 * The step of a cleared curve that holds at a tick, or undefined beyond the last tick drawn.
 *
 * Nothing is computed: a step holds from its own tick up to, and without, the next one's. Joined points are read at a
 * point, never between two.
 */
export function readCurve(curve: ClearedCurve, tick: number): CurveReading | undefined {
  if (tick < 0 || tick > curve.drawnTo) return undefined;
  const step = curve.time.findLastIndex((time) => time <= tick);
  const value = curve.value[step];
  if (value === undefined) return undefined;
  return { value, low: curve.low[step] ?? null, high: curve.high[step] ?? null };
}

/**
 * What may be said of a curve at a year of its table: value and limits, "not drawn", or hidden.
 *
 * Where the events so far are hidden, steps were merged across the year: the line is only a guide there, and to read
 * it off would be to state a number that nobody computed.
 */
export function yearCell(exhibit: Cleared<ClearedCurves>, label: string, at: number): ClearedCell {
  const year = exhibit.years[at];
  const curve = exhibit.curves.find((candidate) => candidate.label === label);
  const events = exhibit.landmarks.find((row) => row.label === label)?.events[at];
  // Every curve starts at 0, without an interval.
  if (year === 0) return { text: "0", values: [0], hidden: false };
  if (events?.hidden === true) return events;
  // The number beneath is that of an earlier report, and the line is not: it is only a guide here.
  if (events?.asBefore && !curve?.asBefore) return { text: "hidden", values: [], hidden: true };
  const tick = year === undefined ? -1 : tickOfYear(year, exhibit.timeUnit);
  const reading = curve === undefined ? undefined : readCurve(curve, tick);
  if (reading === undefined) return { text: "not drawn", values: [], hidden: false };
  const cell = readingCell(reading, shareScale(exhibit));
  return curve?.asBefore ? { ...cell, text: `${cell.text}${AS_BEFORE_MARK}`, asBefore: true } : cell;
}

/** "23.0 (11.5 to 40.1)" on the exhibit's scale, without its word. */
function readingCell({ value, low, high }: CurveReading, scale: ShareScale): ClearedCell {
  const scaled = (share: number) => Number((scale.factor * share).toPrecision(DIGITS));
  if (low === null || high === null) {
    return { text: `${scale.text(value)} (no interval)`, values: [scaled(value)], hidden: false };
  }
  const text = `${scale.text(value)} (${scale.text(low)} to ${scale.text(high)})`;
  return { text, values: [value, low, high].map(scaled), hidden: false };
}

/** "Per 1000" belongs to crude risk alone: net risk is not a number of people. */
export function shareScale(exhibit: Cleared<ClearedCurves>): ShareScale {
  return exhibit.risk === "crude"
    ? { factor: 1000, word: "per 1000", text: (share) => fixed(1000 * share, 1) }
    : { factor: 100, word: "%", text: (share) => fixed(100 * share, 2) };
}

/** The last time drawn, in years with one decimal. */
export function drawnToYears(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>): string {
  return fixed(yearsOfTicks(curve.drawnTo, exhibit.timeUnit), 1);
}
