import { ArgumentError } from "../base/errors.ts";
import { requireFinite } from "./argument-checks.ts";

const MOST_STEPS = 200;

/** Where a search for a root ended. */
export interface RootFound {
  readonly root: number;
  readonly converged: boolean;
  readonly steps: number;
}

export interface RootOptions {
  readonly relativeTolerance?: number;
  /** What the function is at the bounds, where that is known. */
  readonly atLow?: number;
  readonly atHigh?: number;
}

/**
 * The point between two bounds at which a continuous function is 0.
 *
 * False position with the Illinois rule, and a bisection whenever the bracket did not halve: it never leaves the
 * bracket and needs no slope.
 *
 * @throws ArgumentError where the function has one sign at both bounds.
 */
export function rootBetween(
  evaluate: (x: number) => number,
  low: number,
  high: number,
  options: RootOptions = {},
): RootFound {
  const { relativeTolerance = 1e-14, atLow, atHigh } = options;
  requireFinite("rootBetween", "low", low);
  requireFinite("rootBetween", "high", high);
  let [a, b] = [low, high];
  let [atA, atB] = [atLow ?? finite(evaluate, a), atHigh ?? finite(evaluate, b)];
  if (atA === 0) return { root: a, converged: true, steps: 0 };
  if (atB === 0) return { root: b, converged: true, steps: 0 };
  if (atA > 0 === atB > 0) {
    throw new ArgumentError("rootBetween: the function must change its sign between the bounds");
  }
  let lastWidth = Math.abs(b - a);
  for (let steps = 1; steps <= MOST_STEPS; steps += 1) {
    const secant = b - (atB * (b - a)) / (atB - atA);
    const isInside = secant > Math.min(a, b) && secant < Math.max(a, b);
    const width = Math.abs(b - a);
    const next = isInside && (steps % 3 !== 0 || width < lastWidth / 2) ? secant : a + (b - a) / 2;
    if (steps % 3 === 0) lastWidth = width;
    const atNext = finite(evaluate, next);
    if (atNext === 0) return { root: next, converged: true, steps };
    if (atNext > 0 === atB > 0) atA /= 2;
    else [a, atA] = [b, atB];
    [b, atB] = [next, atNext];
    const tolerance = relativeTolerance * Math.max(Math.abs(a), Math.abs(b));
    if (Math.abs(b - a) <= tolerance || next === a) return { root: b, converged: true, steps };
  }
  return { root: b, converged: false, steps: MOST_STEPS };
}

function finite(evaluate: (x: number) => number, x: number): number {
  const value = evaluate(x);
  requireFinite("rootBetween", `the function at ${x}`, value);
  return value;
}
