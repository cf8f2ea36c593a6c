import { requireInnerProbability, requirePositive } from "./argument-checks.ts";
import { logGammaLower, logGammaUpper } from "./incomplete-gamma.ts";
import { quantileSearch } from "./quantile-search.ts";
import { logPoissonTerm } from "./stirling-error.ts";

/** The x with P(shape, x) = p. */
export function gammaLowerQuantile(p: number, shape: number): number {
  check("gammaLowerQuantile", p, shape);
  // The smaller tail carries the digits; 1 − p is exact from one half up.
  return p <= 0.5 ? fromLower(p, shape) : fromUpper(1 - p, shape);
}

/** The x with Q(shape, x) = p. */
export function gammaUpperQuantile(p: number, shape: number): number {
  check("gammaUpperQuantile", p, shape);
  return p <= 0.5 ? fromUpper(p, shape) : fromLower(1 - p, shape);
}

// Searched on log x: the lower tail is a straight line there for small x.
function fromLower(p: number, shape: number): number {
  return Math.exp(
    quantileSearch(
      (logX) => tailWithSlope(logGammaLower(shape, Math.exp(logX)), shape, logX, 1),
      Math.log(p),
      Math.log(shape),
      "rising",
    ),
  );
}

function fromUpper(p: number, shape: number): number {
  return Math.exp(
    quantileSearch(
      (logX) => tailWithSlope(logGammaUpper(shape, Math.exp(logX)), shape, logX, -1),
      Math.log(p),
      Math.log(shape),
      "falling",
    ),
  );
}

function tailWithSlope(log: number, shape: number, logX: number, sign: 1 | -1) {
  // x · density = shape · Poisson term
  const density = Math.log(shape) + logPoissonTerm(shape, Math.exp(logX));
  return { log, slope: sign * Math.exp(density - log) };
}

function check(where: string, p: number, shape: number): void {
  requireInnerProbability(where, "p", p);
  requirePositive(where, "shape", shape);
}
