import type { ClearedLines } from "../disclosure/cleared.ts";
import { valueAxis } from "./value-axis.ts";

/** The upright axis of a line figure: its ends, its ticks, and whether limits run beyond it. */
export interface LineAxis {
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
  readonly cuts: boolean;
}

/** Limits of an interval may stretch the axis to this many times the largest value drawn, and no further. */
const MOST_STRETCH = 4;
/** Ratios beyond these ends are off the axis, which says so. */
const [LEAST_RATIO, MOST_RATIO] = [1 / 20, 20];
const RATIO_TICKS = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20];

export function lineAxis({ lines, scale }: ClearedLines): LineAxis {
  const values = lines.flatMap(({ y }) => y);
  const limits = lines.flatMap(({ low, high }) => [...low, ...high]).filter((limit) => limit !== null);
  return scale === "ratio" ? ratioAxis([...values, ...limits]) : amountAxis(values, limits);
}

/** From 0 to a round end that holds every value, and limits as far as they do not dwarf the values. */
export function amountAxis(values: readonly number[], limits: readonly number[]): LineAxis {
  const largest = Math.max(0, ...values);
  const all = Math.max(largest, ...limits);
  const most = largest > 0 ? MOST_STRETCH * largest : all;
  const shown = Math.min(all, most) || 1;
  const { limit, ticks } = valueAxis(shown, shown, Number.POSITIVE_INFINITY);
  return { from: 0, to: limit, ticks, cuts: all > limit };
}

/** A logarithmic axis that holds 1 and the values, as far as it goes. */
export function ratioAxis(values: readonly number[]): LineAxis {
  const least = Math.min(1, ...values);
  const most = Math.max(1, ...values);
  const from = RATIO_TICKS.findLast((tick) => tick <= least) ?? LEAST_RATIO;
  const to = RATIO_TICKS.find((tick) => tick >= most) ?? MOST_RATIO;
  return {
    from,
    to,
    ticks: RATIO_TICKS.filter((tick) => tick >= from && tick <= to),
    cuts: least < from || most > to,
  };
}
