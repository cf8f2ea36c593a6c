import { ArgumentError } from "../base/errors.ts";
import { requirePositive } from "./argument-checks.ts";
import { continuedFraction } from "./continued-fraction.ts";
import { logPoissonTerm } from "./stirling-error.ts";

/**
 * Lower regularised incomplete gamma P(shape, x): the chance that a gamma variate is at most x.
 *
 * Our own, as the library function at hand is wrong in the third digit from a shape of some 1,000 up
 * (Q(12000; 10000) off by 5e-4), where exact Poisson limits of large counts are read.
 */
export function gammaLower(shape: number, x: number): number {
  return Math.exp(logGammaLower(shape, x));
}

/** Upper regularised incomplete gamma Q(shape, x), never formed as one minus the lower tail where that loses digits. */
export function gammaUpper(shape: number, x: number): number {
  return Math.exp(logGammaUpper(shape, x));
}

/** log P(shape, x); minus infinity at x = 0, so for use inside this folder. */
export function logGammaLower(shape: number, x: number): number {
  check("gammaLower", shape, x);
  if (x === 0) return Number.NEGATIVE_INFINITY;
  return usesSeries(shape, x) ? logSeries(shape, x) : Math.log1p(-Math.exp(logFraction(shape, x)));
}

/** log Q(shape, x): finite where Q itself is too small for a number. */
export function logGammaUpper(shape: number, x: number): number {
  check("gammaUpper", shape, x);
  if (x === 0) return 0;
  return usesSeries(shape, x) ? Math.log1p(-Math.exp(logSeries(shape, x))) : logFraction(shape, x);
}

function usesSeries(shape: number, x: number): boolean {
  return x < shape + 1;
}

// P = term · (1 + x/(a+1) + x²/((a+1)(a+2)) + …)
function logSeries(shape: number, x: number): number {
  let part = 1;
  let sum = 1;
  for (let k = 1; ; k += 1) {
    part *= x / (shape + k);
    const next = sum + part;
    // Rounding may carry the total a last digit past 1.
    if (next === sum) return Math.min(0, logPoissonTerm(shape, x) + Math.log(sum));
    sum = next;
  }
}

// Q = term · a / (x + 1 − a − 1(1 − a)/(x + 3 − a − 2(2 − a)/(x + 5 − a − …)))
function logFraction(shape: number, x: number): number {
  const first = x + 1 - shape;
  const fraction = continuedFraction(
    first,
    (k) => -k * (k - shape),
    (k) => first + 2 * k,
  );
  return Math.min(0, logPoissonTerm(shape, x) + Math.log(shape / fraction));
}

function check(where: string, shape: number, x: number): void {
  requirePositive(where, "shape", shape);
  if (!Number.isFinite(x) || x < 0) {
    throw new ArgumentError(`${where}: x must be a finite number from 0 up; received ${x}`);
  }
}
