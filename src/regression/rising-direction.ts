import type { LikelihoodPoint, NewtonMaximum } from "../numeric/newton.ts";

/** Columns along which a likelihood rises for ever. */
export interface RisingDirection {
  /** By column: 1 and −1 where its coefficient runs away, 0 where it does not. */
  readonly sign: readonly number[];
  /** Coefficients far out along the direction; 0 for columns that do not take part. */
  readonly far: readonly number[];
}

// Beside the longest; the steps of the others have long gone to zero.
const NO_PART = 1e-5;
const FAR = [30, 10, 3, 1];
const ROUNDING = 1e-9;

/**
 * Whether an iteration that levelled off runs along a direction in which the likelihood rises for ever.
 *
 * A log-likelihood that bends nowhere upwards and has not fallen far out along its last step has no highest point there.
 */
export function risingDirection(
  { at, lastStep, point }: NewtonMaximum<LikelihoodPoint>,
  logLikelihood: (at: Float64Array) => number,
  /** As in `NewtonOptions`. */
  unit = 1,
): RisingDirection | undefined {
  const longest = lastStep.reduce((most, step) => Math.max(most, Math.abs(step)), 0);
  const step = lastStep.map((one) => (Math.abs(one) > NO_PART * longest ? one : 0));
  const least = point.logLikelihood - ROUNDING * Math.max(unit, Math.abs(point.logLikelihood));
  for (const steps of FAR) {
    const value = logLikelihood(at.map((one, k) => one + steps * (step[k] ?? 0)));
    // Predictors that run over say nothing: look less far.
    if (!Number.isFinite(value)) continue;
    if (value < least) return undefined;
    return {
      sign: step.map(Math.sign),
      far: step.map((one, k) => (one === 0 ? 0 : (at[k] ?? 0) + steps * one)),
    };
  }
  return undefined;
}
