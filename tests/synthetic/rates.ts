import { requiredDayNumber } from "../../src/base/day-number.ts";
import { TIME_UNITS, tickOfYear } from "../../src/base/time-unit.ts";
import type { Cause, SyntheticTruth } from "../../src/synthetic/index.ts";
import { DATA_CUT } from "../../src/synthetic/planted-truth.ts";

export interface LogRatio {
  readonly logRatio: number;
  readonly standardError: number;
  readonly events: number;
}

/** First day after the window's start, and its last day; without an end, everything after. */
export type Window = readonly [fromYear: number, toYear?: number];

/**
 * Log ratio of the rates of one cause in a window, group 1 against group 0, followed to revision, death or
 * the data cut.
 *
 * A naive count of events over knee-time. The variance is the sum over surgeons of squared differences
 * between events and those that the group's rate expects, since a surgeon's knees share a frailty.
 */
export function logRateRatio(
  truth: SyntheticTruth,
  cause: Cause,
  group: Uint8Array,
  window: Window,
): LogRatio {
  const { operations, surgeons } = truth;
  const follow = followUp(truth, cause);
  const [from, to] = window.map((year) => tickOfYear(year ?? 0, TIME_UNITS.day));
  const events = [new Float64Array(surgeons.count), new Float64Array(surgeons.count)] as const;
  const days = [new Float64Array(surgeons.count), new Float64Array(surgeons.count)] as const;
  for (let row = 0; row < operations.knees; row++) {
    const { exit, event } = follow(row);
    const inWindow = Math.min(exit, to ?? exit) - (from ?? 0);
    if (inWindow <= 0) continue;
    const side = group[row] === 1 ? 1 : 0;
    const surgeon = operations.surgeon[row] ?? 0;
    days[side][surgeon] = (days[side][surgeon] ?? 0) + inWindow;
    if (event && exit <= (to ?? exit)) events[side][surgeon] = (events[side][surgeon] ?? 0) + 1;
  }
  const rate = [total(events[0]) / total(days[0]), total(events[1]) / total(days[1])] as const;
  let variance = 0;
  for (let surgeon = 0; surgeon < surgeons.count; surgeon++) {
    const surplus = (side: 0 | 1) =>
      ((events[side][surgeon] ?? 0) - rate[side] * (days[side][surgeon] ?? 0)) / total(events[side]);
    variance += (surplus(1) - surplus(0)) ** 2;
  }
  return {
    logRatio: Math.log(rate[1] / rate[0]),
    standardError: Math.sqrt(variance),
    events: total(events[0]) + total(events[1]),
  };
}

const CUT_DAY = requiredDayNumber(DATA_CUT, "DATA_CUT");

function followUp({ operations, revisions }: SyntheticTruth, cause: Cause) {
  return (row: number) => {
    const operated = operations.operationDay[row] ?? 0;
    const death = (operations.deathDay[operations.patient[row] ?? 0] ?? 0) - operated;
    const revision = revisions.days[row] ?? 0;
    const exit = Math.min(revision, death, CUT_DAY - operated);
    return { exit, event: exit === revision && revisions.netDays[cause][row] === revision };
  };
}

export function total(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0);
}
