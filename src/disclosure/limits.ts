import type { Equation } from "./equation.ts";

/** Smallest and largest whole number that is possible. */
export interface Limits {
  readonly low: number;
  readonly high: number;
}

/** Equations narrow each other; in practice they settle in a few rounds, and the bound keeps the time linear. */
const MOST_ROUNDS = 12;
/** Whole numbers come out of sums and quotients of small whole numbers: this is far above their rounding. */
const SLACK = 1e-6;

/** Narrows the limits of unknown whole numbers by equations between them; the limits handed in stay as they are. */
export function tighten(
  equations: readonly Equation[],
  limits: ReadonlyMap<number, Limits>,
): Map<number, Limits> {
  const narrowed = new Map(limits);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const changes = equations.map((equation) => tightenBy(equation, narrowed));
    if (!changes.includes(true)) break;
  }
  return narrowed;
}

/** One equation: each unknown lies between what the extremes of all the others leave. */
function tightenBy({ factors, value }: Equation, limits: Map<number, Limits>): boolean {
  const least = extreme(factors, limits, (factor, { low, high }) =>
    factor > 0 ? factor * low : factor * high,
  );
  const most = extreme(factors, limits, (factor, { low, high }) =>
    factor > 0 ? factor * high : factor * low,
  );
  let changed = false;
  for (const [place, factor] of factors) {
    const old = limits.get(place);
    if (old === undefined) continue;
    const [ownLeast, ownMost] =
      factor > 0 ? [factor * old.low, factor * old.high] : [factor * old.high, factor * old.low];
    const atMost = (value - least.without(ownLeast)) / factor;
    const atLeast = (value - most.without(ownMost)) / factor;
    const low = Math.max(old.low, Math.ceil(Math.min(atMost, atLeast) - SLACK));
    const high = Math.min(old.high, Math.floor(Math.max(atMost, atLeast) + SLACK));
    if (low === old.low && high === old.high) continue;
    limits.set(place, { low, high });
    changed = true;
  }
  return changed;
}

/** A sum that may hold one or more infinite terms, and what it is without one of its terms. */
function extreme(
  factors: ReadonlyMap<number, number>,
  limits: ReadonlyMap<number, Limits>,
  term: (factor: number, limits: Limits) => number,
): { without(own: number): number } {
  let finite = 0;
  let infinite = 0;
  let sign = 1;
  for (const [place, factor] of factors) {
    const one = term(factor, limits.get(place) ?? { low: 0, high: Number.POSITIVE_INFINITY });
    if (Number.isFinite(one)) finite += one;
    else {
      infinite += 1;
      sign = Math.sign(one);
    }
  }
  return {
    without(own) {
      const others = Number.isFinite(own) ? infinite : infinite - 1;
      if (others > 0) return sign * Number.POSITIVE_INFINITY;
      return Number.isFinite(own) ? finite - own : finite;
    },
  };
}
