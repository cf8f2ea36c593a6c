import gammaln from "@stdlib/math-base-special-gammaln";
import { requirePositive } from "./argument-checks.ts";

/** log Γ(x) for x above 0. */
export function logGamma(x: number): number {
  requirePositive("logGamma", "x", x);
  return gammaln(x);
}
