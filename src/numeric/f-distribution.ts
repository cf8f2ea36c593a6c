import { ArgumentError } from "../base/errors.ts";
import { requirePositive } from "./argument-checks.ts";
import { betaLowerLogOdds } from "./beta-quantile.ts";
import { logBetaLower } from "./incomplete-beta.ts";

/** Chance that an F variate exceeds f: the p-value of an F test. */
export function fUpper(f: number, numeratorFreedom: number, denominatorFreedom: number): number {
  check(numeratorFreedom, denominatorFreedom);
  if (!Number.isFinite(f) || f < 0)
    throw new ArgumentError(`fUpper: f must be a finite number from 0 up; received ${f}`);
  const ratio = (numeratorFreedom * f) / denominatorFreedom;
  return Math.exp(
    logBetaLower(1 / (1 + ratio), 1 / (1 + 1 / ratio), denominatorFreedom / 2, numeratorFreedom / 2),
  );
}

/** The f that an F variate exceeds with chance p. */
export function fUpperQuantile(p: number, numeratorFreedom: number, denominatorFreedom: number): number {
  check(numeratorFreedom, denominatorFreedom);
  const logOdds = betaLowerLogOdds(p, denominatorFreedom / 2, numeratorFreedom / 2);
  return (denominatorFreedom / numeratorFreedom) * Math.exp(-logOdds);
}

function check(numeratorFreedom: number, denominatorFreedom: number): void {
  requirePositive("F distribution", "numeratorFreedom", numeratorFreedom);
  requirePositive("F distribution", "denominatorFreedom", denominatorFreedom);
}
