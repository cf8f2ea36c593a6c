import type { Observations } from "./observations.ts";

/** A place in an array for every tick on which a row enters or leaves, in order of time. */
export interface TickSlots {
  readonly count: number;
  readonly slotOf: (tick: number) => number;
  readonly tickOf: (slot: number) => number;
}

const ROOM_PER_ROW = 8;
const ROOM_AT_LEAST = 4096;

/**
 * One slot a tick where the ticks are few, which makes counting a single pass; else one slot a distinct tick, found
 * by sorting, so that follow-up in seconds does not ask for an array of all seconds.
 */
export function tickSlots({ exit, entry }: Observations, rows: Uint32Array): TickSlots {
  let last = 0;
  // An entry is before its exit, so exits alone give the last tick.
  for (let at = 0; at < rows.length; at += 1) last = Math.max(last, exit[rows[at]!]!);
  const isDense = last < Math.max(ROOM_AT_LEAST, ROOM_PER_ROW * rows.length);
  if (isDense) return { count: last + 1, slotOf: (tick) => tick, tickOf: (slot) => slot };
  const distinct = distinctTicks(exit, entry, rows);
  return {
    count: distinct.length,
    slotOf: (tick) => position(distinct, tick),
    tickOf: (slot) => distinct[slot] ?? 0,
  };
}

function distinctTicks(exit: Int32Array, entry: Int32Array | undefined, rows: Uint32Array): Int32Array {
  const all = new Int32Array(entry === undefined ? rows.length : 2 * rows.length);
  rows.forEach((row, at) => {
    all[at] = exit[row] ?? 0;
    if (entry !== undefined) all[rows.length + at] = Math.max(0, entry[row] ?? 0);
  });
  all.sort();
  return all.filter((tick, at) => at === 0 || tick !== all[at - 1]);
}

function position(sorted: Int32Array, tick: number): number {
  let low = 0;
  let high = sorted.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < tick) low = middle + 1;
    else high = middle;
  }
  return low;
}
