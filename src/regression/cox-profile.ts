import { chiSquareUpperQuantile } from "../numeric/chi-square.ts";
import { rootBetween } from "../numeric/root-between.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import { type CoxMaximum, coxMaximum } from "./cox-maximum.ts";
import type { CoxRows } from "./cox-rows.ts";
import { linearPredictor } from "./linear-predictor.ts";

// Each time twice as far.
const MOST_DOUBLINGS = 50;

// e⁷⁰⁰ is about the largest number there is, and the information multiplies two hazards.
const MOST_PREDICTOR = 300;

/**
 * Twice the log-likelihood given up when one coefficient is held at a value and all others are fitted again; not a number
 * where hazards run over.
 */
export function profileGap(
  rows: CoxRows,
  rule: SameDayRule,
  found: CoxMaximum,
  column: number,
): (value: number) => number {
  const isSeparated = found.notEstimable.has(column);
  const others = (isSeparated ? found.tried : found.estimated).filter((other) => other !== column);
  let start: ArrayLike<number> = others.map((other) => found.beta[found.estimated.indexOf(other)] ?? 0);
  return (value) => {
    const base = isSeparated ? undefined : found.offset;
    const x = rows.columns[column]!.values;
    const fixed = base?.slice() ?? new Float64Array(rows.count);
    for (let i = 0; i < fixed.length; i += 1) fixed[i]! += value * x[i]!;
    if (!isWithinNumbers(fixed)) return Number.NaN;
    const values = others.map((other) => rows.columns[other]!.values);
    const predictor = linearPredictor(values, start, rows.count).map((own, i) => own + fixed[i]!);
    if (!isWithinNumbers(predictor)) start = others.map(() => 0);
    const held = coxMaximum(rows, rule, others, { fixed, start, areIndependent: true });
    if (held.report.converged && held.estimated.length === others.length) start = held.beta;
    return 2 * (found.point.logLikelihood - held.point.logLikelihood);
  };
}

function isWithinNumbers(predictor: Float64Array): boolean {
  return predictor.every((one) => Math.abs(one) < MOST_PREDICTOR);
}

/** Where the gap reaches the chi-square of the level, on one side of a value within the limits; undefined if it never does. */
export function profileLimit(
  gap: (value: number) => number,
  inside: number,
  step: number,
  level: number,
): number | undefined {
  const cut = chiSquareUpperQuantile(1 - level, 1);
  let [near, atNear, reach] = [inside, gap(inside) - cut, step];
  for (let doubling = 0; doubling < MOST_DOUBLINGS; doubling += 1) {
    const far = inside + reach;
    const atFar = gap(far) - cut;
    if (!Number.isFinite(atFar)) return undefined;
    if (atFar > 0) {
      const known = { atLow: atNear, atHigh: atFar };
      return rootBetween((at) => gap(at) - cut, near, far, { relativeTolerance: 1e-10, ...known }).root;
    }
    [near, atNear] = [far, atFar];
    reach *= 2;
  }
  return undefined;
}

/** A value at which the gap is small enough, for a coefficient that runs away in the direction given. */
export function insideProfile(
  gap: (value: number) => number,
  sign: 1 | -1,
  step: number,
  level: number,
): number | undefined {
  const cut = chiSquareUpperQuantile(1 - level, 1);
  for (let reach = 0, doubling = 0; doubling < MOST_DOUBLINGS; doubling += 1) {
    const value = gap(sign * reach);
    if (!Number.isFinite(value)) return undefined;
    if (value < cut) return sign * reach;
    reach = reach === 0 ? step : 2 * reach;
  }
  return undefined;
}
