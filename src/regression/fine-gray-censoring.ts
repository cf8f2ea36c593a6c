import { type Answer, computed, notComputed } from "../base/answer.ts";
import { passedSteps } from "../survival/row-order.ts";
import type { CoxRows } from "./cox-rows.ts";

/**
 * The chance of being still under observation, as far as it changes the weight of those who had a competing event.
 *
 * Two product-limit curves in one: that of censoring, in which those with an event on a tick leave before the censorings of
 * that tick, and, with delayed entry, that of entry, which runs back in time. Only ratios of values mean something.
 */
export interface CensoringCurve {
  readonly time: Int32Array;
  /** Places, in `time`, of the steps at or before a tick; 0 for none. */
  readonly stepsUpTo: (tick: number) => number;
  /** Value just before the censorings and entries of a tick. */
  readonly stayedBefore: (tick: number) => number;
  readonly censored: Float64Array;
  /** At risk of censoring: there, and without an event on the tick. */
  readonly atRisk: Float64Array;
  readonly entered: Float64Array;
  /** Under observation once those who enter on the tick have come. */
  readonly present: Float64Array;
}

/** A curve for each stratum; refused where a risk set empties that somebody with a competing event still belongs to. */
export function censoringCurves(
  rows: CoxRows,
  stratum: Uint16Array,
  strata: number,
  isCompeting: (row: number) => boolean,
): Answer<{ readonly list: readonly CensoringCurve[] }> {
  const lastEvent = rows.cells.tick.at(-1) ?? -1;
  const list: CensoringCurve[] = [];
  for (let own = 0; own < strata; own += 1) {
    const curve = productLimit(movements(rows, stratum, own, isCompeting), lastEvent);
    if (curve === undefined) return EMPTIED;
    list.push(curve);
  }
  return computed({ list });
}

const EMPTIED = notComputed(
  "risk-set-emptied",
  "the risk set empties before late entries, so the weight of those with a competing event has no estimate",
);

/** Who comes and goes at each tick, weights added. */
interface Movements extends Pick<CensoringCurve, "time" | "stepsUpTo" | "censored" | "entered"> {
  readonly events: Float64Array;
  readonly competing: Float64Array;
  readonly fromStart: number;
}

function movements(
  { row, count, weight, observations }: CoxRows,
  stratum: Uint16Array,
  own: number,
  isCompeting: (row: number) => boolean,
): Movements {
  const { exit, entry, event } = observations;
  const time = differentTicks(row, stratum, own, exit, entry);
  const stepsUpTo = passedSteps(time);
  const series = () => new Float64Array(time.length);
  const [events, competing, censored, entered] = [series(), series(), series(), series()];
  let fromStart = 0;
  for (let place = 0; place < count; place += 1) {
    if (stratum[place] !== own) continue;
    const at = row[place]!;
    const w = weight === undefined ? 1 : weight[place]!;
    // Every exit, and every entry from 0 up, is one of the ticks.
    const step = stepsUpTo(exit[at]!) - 1;
    if (event[at] === 0) censored[step]! += w;
    else events[step]! += w;
    if (isCompeting(at)) competing[step]! += w;
    const from = entry === undefined ? -1 : entry[at]!;
    if (from < 0) fromStart += w;
    else entered[stepsUpTo(from) - 1]! += w;
  }
  return { time, stepsUpTo, events, competing, censored, entered, fromStart };
}

// Weights that are no whole numbers leave rounding where nobody is left.
const NOBODY = 1e-9;

function productLimit(moves: Movements, lastEvent: number): CensoringCurve | undefined {
  const { time, stepsUpTo, events, competing, censored, entered, fromStart } = moves;
  const [atRisk, present] = [new Float64Array(time.length), new Float64Array(time.length)];
  const after = new Float64Array(time.length + 1).fill(1);
  let there = fromStart;
  let log = 0;
  let hasCompeted = false;
  for (let step = 0; step < time.length; step += 1) {
    hasCompeted ||= competing[step]! > 0;
    const free = there - events[step]!;
    const stayed = free - censored[step]!;
    atRisk[step] = free;
    present[step] = stayed + entered[step]!;
    // Before anybody had a competing event no ratio reaches back here.
    if (censored[step]! > 0 && hasCompeted)
      log += stayed > NOBODY * free ? Math.log(stayed / free) : -Infinity;
    if (entered[step]! > 0 && hasCompeted && time[step]! < lastEvent) {
      if (!(stayed > NOBODY * present[step]!)) return undefined;
      log -= Math.log(stayed / present[step]!);
    }
    there = present[step]!;
    after[step + 1] = Math.exp(log);
  }
  const stayedBefore = (tick: number) => after[stepsUpTo(tick - 1)]!;
  return { time, stepsUpTo, stayedBefore, censored, atRisk, entered, present };
}

function differentTicks(
  row: Int32Array,
  stratum: Uint16Array,
  own: number,
  exit: Int32Array,
  entry: Int32Array | undefined,
): Int32Array {
  const ticks = new Set<number>();
  for (let place = 0; place < row.length; place += 1) {
    if (stratum[place] !== own) continue;
    ticks.add(exit[row[place]!]!);
    if (entry !== undefined && entry[row[place]!]! >= 0) ticks.add(entry[row[place]!]!);
  }
  return Int32Array.from(ticks).sort();
}
