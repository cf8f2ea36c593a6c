import { fixed } from "../base/display.ts";
import type { Cell } from "./exhibit.ts";

type Numbers = Extract<Cell, { kind: "numbers" }>;

/**
 * Numbers in whole steps, for an estimate whose own count is large enough but lies close to a neighbour's.
 *
 * The risks at 5 and at 10 years may each rest on twenty events and still differ by a small number of them. The step is
 * the smallest of 1, 2, 5, 10, 20, … that is at least what one event changes, so that several numbers of events fit
 * what is printed. A heuristic: it keeps the small number from being told, not from being guessed.
 */
export function coarseNumbers(cell: Numbers, oneEventChanges: number): { text: string; values: number[] } {
  const step = wholeStep(oneEventChanges);
  const values = cell.values.map((value) => Math.round(value / step) * step);
  const text = cell.form.replace(/\{(\d+)\}/g, (place, index) => {
    const value = values[Number(index)];
    return value === undefined ? place : fixed(value, 0);
  });
  return { text: `about ${text}`, values };
}

function wholeStep(least: number): number {
  let step = 1;
  for (const factor of repeating([2, 2.5, 2])) {
    if (step >= least) break;
    step *= factor;
  }
  return step;
}

/** 1, 2, 5, 10, 20, 50, … */
function* repeating(factors: readonly number[]): Generator<number> {
  for (;;) yield* factors;
}
