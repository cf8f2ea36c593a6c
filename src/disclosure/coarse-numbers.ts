import { fixed } from "../base/display.ts";
import type { Cell } from "./exhibit.ts";

type Numbers = Extract<Cell, { kind: "numbers" }>;

/** An estimate and its limits in whole steps. */
export interface CoarseNumbers {
  readonly text: string;
  readonly values: readonly number[];
  readonly step: number;
}

/**
 * Numbers in whole steps, for an estimate whose own count is large enough but lies close to a neighbour's.
 *
 * The risks at 5 and at 10 years may each rest on twenty events and still differ by a small number of them. The step is
 * the smallest of 1, 2, 5, 10, 20, … that is at least what `threshold` events change together, so that so many numbers
 * of events fit what is printed. The estimate goes to the nearest step. A limit is moved outward, so far that it would
 * hold for every estimate printed alike: limits rounded on their own would narrow the estimate again. Zero is not passed
 * by a limit that is on one side of it; an estimate that would be printed as 0 with both limits on one side, such as a
 * risk smaller than its steps, is undefined. The limits alone are printed: the estimate in steps would be quoted as one. A heuristic: it keeps the small number from being told, not from being guessed.
 */
export function coarseNumbers(
  cell: Numbers,
  oneEventChanges: number,
  threshold: number,
): CoarseNumbers | undefined {
  const step = wholeStep(threshold * oneEventChanges);
  const [estimate = 0] = cell.values;
  const printed = step * Math.round(estimate / step) + 0;
  const values = cell.values.map((value, at) => {
    if (at === 0) return printed;
    const steps = Math.ceil((Math.abs(estimate - value) + step / 2) / step);
    return at === 1 ? lower(value, printed - step * steps) : upper(value, printed + step * steps);
  });
  const [, low = 0, high = 0] = cell.values;
  if (printed === 0 && (low >= 0 || high <= 0)) return undefined;
  return { text: rangeWords(values), values, step };
}

/** "between 2 and 16". */
export function rangeWords([, low = 0, high = 0]: readonly number[]): string {
  return `between ${fixed(low, 0)} and ${fixed(high, 0)}`;
}

/** A limit stays on its side of zero; adding 0 keeps minus zero off the page. */
function lower(limit: number, printed: number): number {
  return (limit >= 0 ? Math.max(0, printed) : printed) + 0;
}

function upper(limit: number, printed: number): number {
  return (limit <= 0 ? Math.min(0, printed) : printed) + 0;
}

/** The smallest of 1, 2, 5, 10, 20, … that is at least so much. */
export function wholeStep(least: number): number {
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
