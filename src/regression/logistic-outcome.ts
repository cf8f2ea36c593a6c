import { type NotComputed, notComputed } from "../base/answer.ts";
import type { OutcomeRows } from "./outcome-rows.ts";

export const ZERO_OR_ONE = { words: "0 or 1", holds: (value: number) => value === 0 || value === 1 };

/** How many rows have each outcome; copies counted, sampling weights added. */
export interface OutcomeCounts {
  /** Outcome 1. */
  readonly events: number;
  /** Outcome 0. */
  readonly others: number;
}

export function outcomeCounts({ outcome, weight }: OutcomeRows): OutcomeCounts {
  let events = 0;
  let all = 0;
  for (let row = 0; row < outcome.length; row += 1) {
    const one = weight?.values[row] ?? 1;
    all += one;
    events += one * (outcome[row] ?? 0);
  }
  return { events, others: all - events };
}

/** Why no logistic model can be fitted, if so. */
export function outcomeRefusal(rows: OutcomeRows, parameters: number): NotComputed | undefined {
  const { outcome } = rows;
  if (outcome.length === 0)
    return notComputed("no-rows", "no row has every term, the outcome and a weight above 0");
  const ones = outcome.reduce((sum, one) => sum + one, 0);
  if (ones === 0 || ones === outcome.length)
    return notComputed("one-outcome", "all rows have the same outcome, so nothing changes it");
  const { events, others } =
    rows.weight?.kind === "copies" ? outcomeCounts(rows) : { events: ones, others: outcome.length - ones };
  if (Math.min(events, others) >= parameters) return undefined;
  return notComputed(
    "fewer-events-than-parameters",
    "fewer rows have the rarer outcome than the model has parameters; use fewer terms",
  );
}
