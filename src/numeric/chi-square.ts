import { requirePositive } from "./argument-checks.ts";
import { gammaLowerQuantile, gammaUpperQuantile } from "./gamma-quantile.ts";
import { gammaLower, gammaUpper, logGammaUpper } from "./incomplete-gamma.ts";

const WHERE = "chi-square";

/** Chance that a chi-square variate exceeds x: the p-value of a chi-square test. */
export function chiSquareUpper(x: number, degreesOfFreedom: number): number {
  requirePositive(WHERE, "degreesOfFreedom", degreesOfFreedom);
  return gammaUpper(degreesOfFreedom / 2, x / 2);
}

/** log of `chiSquareUpper`: finite where the tail itself is too small for a number. */
export function logChiSquareUpper(x: number, degreesOfFreedom: number): number {
  requirePositive(WHERE, "degreesOfFreedom", degreesOfFreedom);
  return logGammaUpper(degreesOfFreedom / 2, x / 2);
}

/** Chance that a chi-square variate is at most x. */
export function chiSquareLower(x: number, degreesOfFreedom: number): number {
  requirePositive(WHERE, "degreesOfFreedom", degreesOfFreedom);
  return gammaLower(degreesOfFreedom / 2, x / 2);
}

/** The x that a chi-square variate exceeds with chance p. */
export function chiSquareUpperQuantile(p: number, degreesOfFreedom: number): number {
  requirePositive(WHERE, "degreesOfFreedom", degreesOfFreedom);
  return 2 * gammaUpperQuantile(p, degreesOfFreedom / 2);
}

/** The x that a chi-square variate stays at or below with chance p. */
export function chiSquareLowerQuantile(p: number, degreesOfFreedom: number): number {
  requirePositive(WHERE, "degreesOfFreedom", degreesOfFreedom);
  return 2 * gammaLowerQuantile(p, degreesOfFreedom / 2);
}
