import { type Answer, computed, notComputed } from "../base/answer.ts";
import { passedSteps } from "../survival/row-order.ts";
import type { CoxRows } from "./cox-rows.ts";

/** Scales of time on which an effect may change: one minus the survival just before, the tick, its logarithm, its rank among all ends. */
export const TIME_SCALES = ["survival", "time", "logTime", "rank"] as const;
export type TimeScale = (typeof TIME_SCALES)[number];

/** Each cell's time on the scale, centred on the mean over events. Strata share one scale; rows count once, unweighted. */
export function eventTimeScale(rows: CoxRows, scale: TimeScale): Answer<{ readonly factor: Float64Array }> {
  const { cells } = rows;
  if (scale === "logTime" && cells.tick.some((tick, cell) => tick === 0 && cells.events[cell]! > 0)) {
    return notComputed("log-of-zero", "an event on tick 0 has no logarithm of its time; use another scale");
  }
  const { time, events } = pooledEvents(rows);
  const onScale = valuesOn(scale, rows, time, events);
  const all = events.reduce((sum, count) => sum + count, 0);
  const mean = onScale.reduce((sum, value, step) => sum + value * events[step]!, 0) / all;
  const passed = passedSteps(time);
  const factor = Float64Array.from(cells.tick, (tick) => (tick < 0 ? 0 : onScale[passed(tick) - 1]! - mean));
  return computed({ factor });
}

function pooledEvents({ cells }: CoxRows): { time: Int32Array; events: Float64Array } {
  const byTick = new Map<number, number>();
  cells.tick.forEach((tick, cell) => {
    if (tick >= 0) byTick.set(tick, (byTick.get(tick) ?? 0) + cells.events[cell]!);
  });
  const time = Int32Array.from(byTick.keys()).sort();
  return { time, events: Float64Array.from(time, (tick) => byTick.get(tick) ?? 0) };
}

function valuesOn(scale: TimeScale, rows: CoxRows, time: Int32Array, events: Float64Array): Float64Array {
  switch (scale) {
    case "survival":
      return lostBefore(rows, time, events);
    case "time":
      return Float64Array.from(time);
    case "logTime":
      return Float64Array.from(time, Math.log);
    case "rank":
      return rankOfExit(rows, time);
  }
}

/** Rows of the fit, ascending: read in the order in which they leave, their columns would wait for memory. */
function ascendingRows({ observations, row }: CoxRows): Int32Array {
  const isTaken = new Uint8Array(observations.rows);
  for (let at = 0; at < row.length; at += 1) isTaken[row[at]!] = 1;
  const rows = new Int32Array(row.length);
  let next = 0;
  for (let one = 0; one < isTaken.length; one += 1) if (isTaken[one] === 1) rows[next++] = one;
  return rows;
}

/** Rank of each tick among the ends of all rows; equal ends share the middle rank. */
function rankOfExit(rows: CoxRows, time: Int32Array): Float64Array {
  const passed = passedSteps(time);
  const from = new Float64Array(time.length + 1);
  const on = new Float64Array(time.length);
  for (const one of ascendingRows(rows)) {
    const exit = rows.observations.exit[one]!;
    const steps = passed(exit);
    from[steps]! += 1;
    if (steps > 0 && time[steps - 1] === exit) on[steps - 1]! += 1;
  }
  for (let step = time.length - 1; step >= 0; step -= 1) from[step]! += from[step + 1]!;
  return on.map((count, step) => rows.count - from[step + 1]! + (count + 1) / 2);
}

/** One minus Kaplan–Meier survival just before each tick. */
function lostBefore(rows: CoxRows, time: Int32Array, events: Float64Array): Float64Array {
  const passed = passedSteps(time);
  const atRisk = new Float64Array(time.length + 1);
  const { exit, entry } = rows.observations;
  for (const one of ascendingRows(rows)) {
    atRisk[passed(exit[one]!)]! += 1;
    if (entry !== undefined) atRisk[passed(entry[one]!)]! -= 1;
  }
  for (let step = time.length - 1; step >= 0; step -= 1) atRisk[step]! += atRisk[step + 1]!;
  let survival = 1;
  return events.map((count, step) => {
    const before = survival;
    survival *= 1 - count / atRisk[step + 1]!;
    return 1 - before;
  });
}
