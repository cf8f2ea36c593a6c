import { type NotComputed, notComputed } from "../base/answer.ts";
import {
  type FitReport,
  type LikelihoodPoint,
  type NewtonMaximum,
  newtonMaximum,
} from "../numeric/newton.ts";
import type { FitColumns } from "./fit-columns.ts";
import { risingDirection } from "./rising-direction.ts";

/** A likelihood at its top, or as near to a top at infinity as matters. */
export interface LikelihoodFit<Point extends LikelihoodPoint> {
  readonly maximum: NewtonMaximum<Point>;
  /** Where each coefficient runs to, in the caller's units: up, down, or nowhere (0). */
  readonly runs: readonly (-1 | 0 | 1)[];
}

// Beyond the point where it levels off, so that what does not run settles to its limit.
const STEPS_BEYOND = 7;
// A coefficient takes part in the direction where its share is above what is left of the others' way.
const TAKES_PART = 1e-3;

/**
 * The top of a likelihood. Where it has none, since it rises for ever along some direction, the coefficients of that
 * direction are named and the others are carried to their limits.
 */
export function likelihoodFit<Point extends LikelihoodPoint>(
  evaluate: (at: Float64Array) => Point,
  start: ArrayLike<number>,
  { axes }: Pick<FitColumns, "axes">,
  /** As in `NewtonOptions`. */
  unit = 1,
): LikelihoodFit<Point> {
  const first = newtonMaximum(evaluate, start, { unit });
  const stands = { maximum: first, runs: axes.map((): 0 => 0) };
  if (first.report.reason !== "levelling-off") return stands;
  const isRising =
    risingDirection(first, (at) => evaluate(Float64Array.from(at)).logLikelihood, unit) !== undefined;
  const maximum = newtonMaximum(evaluate, first.at, {
    unit,
    stopWhenLevel: false,
    first: first.point,
    ...(isRising && { mostSteps: STEPS_BEYOND }),
  });
  return isRising
    ? { maximum, runs: axes.map((axis) => runOf(axis, first.lastStep)) }
    : { ...stands, maximum };
}

/** Whether a fit can be shown: it converged, or what does not run has settled. */
export function hasSettled({ maximum, runs }: LikelihoodFit<LikelihoodPoint>): boolean {
  return maximum.report.converged || runs.some((run) => run !== 0);
}

export function notConverged({ reason }: FitReport): NotComputed {
  return notComputed("not-converged", `the fit did not come to an end (${reason})`);
}

function runOf(axis: readonly number[], step: readonly number[]): -1 | 0 | 1 {
  const parts = axis.map((weight, at) => weight * (step[at] ?? 0));
  const whole = parts.reduce((sum, part) => sum + part, 0);
  const most = (values: readonly number[]) =>
    values.reduce((top, value) => Math.max(top, Math.abs(value)), 0);
  if (Math.abs(whole) <= TAKES_PART * Math.max(most(parts), most(axis) * most(step))) return 0;
  return whole > 0 ? 1 : -1;
}
