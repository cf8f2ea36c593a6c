import { requireFinite, requireInnerProbability, requirePositive } from "./argument-checks.ts";
import { betaLowerLogOdds } from "./beta-quantile.ts";
import { logBetaLower } from "./incomplete-beta.ts";

/** Chance that a Student t variate exceeds t. */
export function studentUpper(t: number, degreesOfFreedom: number): number {
  requireFinite("studentUpper", "t", t);
  const bothTails = studentTwoSided(t, degreesOfFreedom);
  return t >= 0 ? bothTails / 2 : 1 - bothTails / 2;
}

/** Two-sided p-value of a t statistic. */
export function studentTwoSided(t: number, degreesOfFreedom: number): number {
  requireFinite("studentTwoSided", "t", t);
  requirePositive("studentTwoSided", "degreesOfFreedom", degreesOfFreedom);
  // With r = t²/df: x = 1/(1 + r) and y = r/(1 + r), neither by subtraction.
  const ratio = (t * t) / degreesOfFreedom;
  return Math.exp(logBetaLower(1 / (1 + ratio), 1 / (1 + 1 / ratio), degreesOfFreedom / 2, 0.5));
}

/** The t that a Student variate exceeds with chance p. */
export function studentUpperQuantile(p: number, degreesOfFreedom: number): number {
  requireInnerProbability("studentUpperQuantile", "p", p);
  requirePositive("studentUpperQuantile", "degreesOfFreedom", degreesOfFreedom);
  if (p === 0.5) return 0;
  return p < 0.5 ? upperHalf(p, degreesOfFreedom) : -upperHalf(1 - p, degreesOfFreedom);
}

function upperHalf(p: number, degreesOfFreedom: number): number {
  const logOdds =
    p < 0.25
      ? betaLowerLogOdds(2 * p, degreesOfFreedom / 2, 0.5)
      : // Near the middle the central part keeps the digits: 1 − 2p is exact here.
        -betaLowerLogOdds(1 - 2 * p, 0.5, degreesOfFreedom / 2);
  return Math.sqrt(degreesOfFreedom) * Math.exp(-logOdds / 2);
}
