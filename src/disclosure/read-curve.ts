import { fixed } from "../base/display.ts";
import { tickOfYear, yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurve, ClearedCurves } from "./cleared.ts";

/** What a cleared curve says at one time. */
export interface CurveReading {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

/** How shares of this exhibit are printed: crude risk per 1,000 units, net risk in per cent. */
export interface ShareScale {
  readonly factor: number;
  /** "per 1,000" or "%". */
  readonly word: string;
  /** The share as printed, without the word. */
  text(share: number): string;
}

/**
 * The step of a cleared curve that holds at a tick, or undefined beyond the last tick drawn.
 *
 * Nothing is computed: a step holds from its own tick up to, and without, the next one's.
 */
export function readCurve(curve: ClearedCurve, tick: number): CurveReading | undefined {
  if (tick < 0 || tick > curve.drawnTo) return undefined;
  const step = curve.time.findLastIndex((time) => time <= tick);
  const value = curve.value[step];
  if (value === undefined) return undefined;
  return { value, low: curve.low[step] ?? null, high: curve.high[step] ?? null };
}

/** As `readCurve`, at a year: the step at or before the last whole tick of that year. */
export function readCurveAtYear(
  curve: ClearedCurve,
  year: number,
  exhibit: Cleared<ClearedCurves>,
): CurveReading | undefined {
  return readCurve(curve, tickOfYear(year, exhibit.timeUnit));
}

/** "23.0 (11.5 to 40.1)" on the exhibit's scale, without its word. */
export function readingText(reading: CurveReading, scale: ShareScale): string {
  const { value, low, high } = reading;
  if (low === null || high === null) return `${scale.text(value)} (no interval)`;
  return `${scale.text(value)} (${scale.text(low)} to ${scale.text(high)})`;
}

/** "Per 1,000" belongs to crude risk alone: net risk is not a number of people. */
export function shareScale(exhibit: Cleared<ClearedCurves>): ShareScale {
  return exhibit.risk === "crude"
    ? { factor: 1000, word: "per 1,000", text: (share) => fixed(1000 * share, 1) }
    : { factor: 100, word: "%", text: (share) => fixed(100 * share, 2) };
}

/** The last time drawn, in years with one decimal. */
export function drawnToYears(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>): string {
  return fixed(yearsOfTicks(curve.drawnTo, exhibit.timeUnit), 1);
}
