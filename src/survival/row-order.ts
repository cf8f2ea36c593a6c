import type { Observations } from "./observations.ts";
import { stepsUpTo } from "./risk-steps.ts";
import type { Units } from "./units.ts";

/** Rows that come, or go, between two steps. Parallel arrays; those of step k lie from `from[k]` up to `from[k + 1]`. */
export interface Passing {
  readonly from: Int32Array;
  readonly unit: Int32Array;
  readonly factor: Float64Array;
  /** Code of the event at that step; 0 for none. */
  readonly event: Uint8Array;
}

/** One group's rows in the order in which they leave and enter. It holds for every cause, so it is made once. */
export interface RowOrder {
  /** Independent units of the group, numbered by the first row that leaves: neighbours in time are neighbours in memory. */
  readonly units: number;
  readonly rows: number;
  /** After k steps leave the rows of place k. */
  readonly leaving: Passing;
  /** Absent where all are there from the start. */
  readonly entering?: Passing;
}

export function rowOrder(
  observations: Observations,
  rows: readonly Uint32Array[],
  units: Units,
  time: Int32Array,
): RowOrder {
  const { exit, entry, event } = observations;
  const passed = passedSteps(time);
  const leaves = sorted(rows, exit, passed, time.length);
  const local = new Int32Array(units.count).fill(-1);
  let count = 0;
  for (const row of leaves.rows) {
    const unit = units.codes === undefined ? row : units.codes[row]!;
    if (local[unit] === -1) local[unit] = count++;
  }
  const passing = ({ rows: list, from }: Sorted, isExit: boolean): Passing => {
    const unit = new Int32Array(list.length);
    const factor = new Float64Array(list.length);
    const events = new Uint8Array(isExit ? list.length : 0);
    // Each place below is a row of the group.
    for (let at = 0; at < list.length; at += 1) {
      const row = list[at]!;
      unit[at] = local[units.codes === undefined ? row : units.codes[row]!]!;
      factor[at] = units.factor(row);
      if (isExit) events[at] = event[row]!;
    }
    return { from, unit, factor, event: events };
  };
  return {
    units: count,
    rows: leaves.rows.length,
    leaving: passing(leaves, true),
    ...(entry && { entering: passing(sorted(rows, entry, passed, time.length), false) }),
  };
}

interface Sorted {
  readonly rows: Uint32Array;
  readonly from: Int32Array;
}

/** Counting sort by the steps passed at a tick. */
function sorted(
  lists: readonly Uint32Array[],
  ticks: Int32Array,
  passed: (tick: number) => number,
  steps: number,
): Sorted {
  const from = new Int32Array(steps + 2);
  for (const list of lists) {
    for (let at = 0; at < list.length; at += 1) from[passed(ticks[list[at]!]!) + 1]! += 1;
  }
  for (let step = 1; step < from.length; step += 1) from[step]! += from[step - 1]!;
  const rows = new Uint32Array(from[steps + 1] ?? 0);
  const next = from.slice();
  for (const list of lists) {
    for (let at = 0; at < list.length; at += 1) {
      const row = list[at]!;
      rows[next[passed(ticks[row]!)]!++] = row;
    }
  }
  return { rows, from };
}

const MOST_PER_STEP = 64;

/** How many steps lie at or before a tick: looked up where ticks are days, searched where they are seconds. */
export function passedSteps(time: Int32Array): (tick: number) => number {
  const last = time.at(-1) ?? 0;
  if (last > MOST_PER_STEP * (time.length + 64)) return (tick) => stepsUpTo(time, tick);
  const table = new Int32Array(last + 1);
  let step = 0;
  for (let tick = 0; tick <= last; tick += 1) {
    if (time[step] === tick) step += 1;
    table[tick] = step;
  }
  return (tick) => (tick < 0 ? 0 : (table[tick] ?? step));
}
