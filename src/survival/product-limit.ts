import { leftOver } from "./incidence-path.ts";

/** Survival after each step and its Greenwood standard error. */
export interface SurvivalPath {
  readonly survival: Float64Array;
  readonly standardError: Float64Array;
}

/**
 * Product-limit estimate: S = ∏ (n − d)/n over the steps so far, standard error S √(Σ d/(n (n − d))).
 *
 * Once survival is 0 it stays 0, with standard error 0 for want of a value.
 */
export function productLimit(atRisk: ArrayLike<number>, events: ArrayLike<number>): SurvivalPath {
  const survival = new Float64Array(atRisk.length);
  const standardError = new Float64Array(atRisk.length);
  let share = 1;
  let greenwood = 0;
  for (let step = 0; step < survival.length; step += 1) {
    const n = atRisk[step] ?? 0;
    const d = events[step] ?? 0;
    if (d > 0) {
      const left = leftOver(n, d);
      share *= left / n;
      greenwood += left > 0 ? d / (n * left) : 0;
    }
    survival[step] = share;
    standardError[step] = share * Math.sqrt(greenwood);
  }
  return { survival, standardError };
}
