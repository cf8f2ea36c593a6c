import erfc from "@stdlib/math-base-special-erfc";
import { requireFinite, requireInnerProbability } from "./argument-checks.ts";
import { gammaLowerQuantile, gammaUpperQuantile } from "./gamma-quantile.ts";
import { logGammaUpper } from "./incomplete-gamma.ts";

const FAR_OUT = 30;

/** Chance that a standard normal variate exceeds z. Exact far out: 2.9e-316 at z = 38. */
export function normalUpper(z: number): number {
  requireFinite("normalUpper", "z", z);
  return erfc(z / Math.SQRT2) / 2;
}

/** Chance that a standard normal variate is at most z. */
export function normalLower(z: number): number {
  requireFinite("normalLower", "z", z);
  return erfc(-z / Math.SQRT2) / 2;
}

/** Two-sided p-value of a normal test statistic. */
export function normalTwoSided(z: number): number {
  requireFinite("normalTwoSided", "z", z);
  return erfc(Math.abs(z) / Math.SQRT2);
}

/** log of `normalUpper(z)`: finite where the tail itself is too small for a number. */
export function logNormalUpper(z: number): number {
  requireFinite("logNormalUpper", "z", z);
  // z² is chi-square on 1 degree of freedom, which is gamma with shape 1/2 and z²/2.
  return z < FAR_OUT ? Math.log(normalUpper(z)) : logGammaUpper(0.5, (z * z) / 2) - Math.LN2;
}

/** Density of the standard normal distribution. */
export function normalDensity(z: number): number {
  requireFinite("normalDensity", "z", z);
  return Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI);
}

/** The z that a standard normal variate exceeds with chance p; `normalUpperQuantile(0.025)` is 1.96. */
export function normalUpperQuantile(p: number): number {
  requireInnerProbability("normalUpperQuantile", "p", p);
  if (p > 0.5) return -upperHalf(1 - p);
  return upperHalf(p);
}

// z is the root of a chi-square quantile on 1 degree of freedom; near the middle the central part keeps the digits.
function upperHalf(p: number): number {
  if (p === 0.5) return 0;
  const halfSquare = p < 0.25 ? gammaUpperQuantile(2 * p, 0.5) : gammaLowerQuantile(1 - 2 * p, 0.5);
  return Math.sqrt(2 * halfSquare);
}
