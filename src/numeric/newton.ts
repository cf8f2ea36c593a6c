import { ArgumentError } from "../base/errors.ts";
import { choleskyFactor, choleskySolve, type SymmetricMatrix } from "./symmetric-matrix.ts";

/** A log-likelihood at one point, with its slope and its curvature. */
export interface LikelihoodPoint {
  readonly logLikelihood: number;
  /** First derivatives. */
  readonly score: ArrayLike<number>;
  /** Second derivatives with their sign changed: positive definite where the likelihood bends. */
  readonly information: SymmetricMatrix;
}

/**
 * Why the iteration stopped.
 *
 * "levelling-off": the likelihood hardly rises any more, yet each step is as long as the one before. That is what it looks
 * like when the likelihood has no highest point and rises for ever along some direction.
 */
export const STOP_REASONS = ["converged", "levelling-off", "singular", "no-ascent", "step-limit"] as const;
export type StopReason = (typeof STOP_REASONS)[number];

/** How an iteration ended. A value that did not converge is not shown without its reason. */
export interface FitReport {
  readonly converged: boolean;
  readonly reason: StopReason;
  /** Steps taken. */
  readonly iterations: number;
  /** How often a step was cut in half because the likelihood fell. */
  readonly halvings: number;
  /** Slope in units of standard errors, scoreᵀ information⁻¹ score, at the last point that was looked at. */
  readonly decrement: number;
}

export interface NewtonOptions {
  /** Default 40. */
  readonly mostSteps?: number;
  /** Converged where the decrement is no larger. Default 1e-18 of a unit: a step of 1e-9 standard errors. */
  readonly tolerance?: number;
  /** Whether to stop as "levelling-off". Default true; false goes on to the limit of steps. */
  readonly stopWhenLevel?: boolean;
  /** What one event adds to the likelihood, which decrements are measured in. Default 1; with sampling weights their mean. */
  readonly unit?: number;
}

export interface NewtonMaximum<Point extends LikelihoodPoint> {
  readonly at: Float64Array;
  /** As evaluated last: within a step of √tolerance standard errors of `at`. */
  readonly point: Point;
  /** The step that was or would have been taken last: the direction of a likelihood without a highest point. */
  readonly lastStep: readonly number[];
  readonly report: FitReport;
}

const MOST_HALVINGS = 30;
// A quadratic end of the iteration squares the decrement; where it falls by a factor e a step the likelihood has no top.
const [LEVEL, LINEAR_END] = [1e-8, 0.05];
// A fall within the rounding of the likelihood is no fall.
const ROUNDING = 1e-12;

/**
 * The highest point of a log-likelihood, by Newton's method with step-halving.
 *
 * Each call of `evaluate` must return arrays of its own: after a step too long the point before it is still needed. `first` hands in the point already known at `start`.
 *
 * @throws ArgumentError where the likelihood at the start is not finite.
 */
export function newtonMaximum<Point extends LikelihoodPoint>(
  evaluate: (at: Float64Array) => Point,
  start: ArrayLike<number>,
  options: NewtonOptions & { readonly first?: Point } = {},
): NewtonMaximum<Point> {
  const { mostSteps = 40, tolerance = 1e-18, stopWhenLevel = true, unit = 1 } = options;
  let at: Float64Array = Float64Array.from(start);
  let point = options.first ?? evaluate(at);
  if (!isFinitePoint(point))
    throw new ArgumentError("newtonMaximum: the likelihood at the start is not finite");
  let lastStep: readonly number[] = new Array<number>(at.length).fill(0);
  let decrement = Number.MAX_VALUE;
  let halvings = 0;
  const ended = (reason: StopReason, iterations: number): NewtonMaximum<Point> => ({
    at,
    point,
    lastStep,
    report: { converged: reason === "converged", reason, iterations, halvings, decrement },
  });
  if (at.length === 0) {
    decrement = 0;
    return ended("converged", 0);
  }
  for (let iterations = 0; ; iterations += 1) {
    const factor = choleskyFactor(point.information);
    if (factor === undefined) return ended("singular", iterations);
    lastStep = choleskySolve(factor, point.score);
    const before = decrement;
    decrement = decrementOf(point, lastStep);
    if (decrement <= tolerance * unit) {
      at = moved(at, lastStep, 1);
      return ended("converged", iterations);
    }
    if (stopWhenLevel && decrement < LEVEL * unit && decrement > LINEAR_END * before) {
      return ended("levelling-off", iterations);
    }
    if (iterations === mostSteps) return ended("step-limit", iterations);
    const next = ascent(evaluate, at, point, lastStep, unit);
    if (next === undefined) return ended("no-ascent", iterations);
    halvings += next.halvings;
    ({ at, point } = next);
  }
}

function ascent<Point extends LikelihoodPoint>(
  evaluate: (at: Float64Array) => Point,
  from: Float64Array,
  { logLikelihood }: LikelihoodPoint,
  step: readonly number[],
  unit: number,
): { at: Float64Array; point: Point; halvings: number } | undefined {
  const least = logLikelihood - ROUNDING * (unit + Math.abs(logLikelihood));
  for (let halvings = 0, share = 1; halvings <= MOST_HALVINGS; halvings += 1, share /= 2) {
    const at = moved(from, step, share);
    const point = evaluate(at);
    if (isFinitePoint(point) && point.logLikelihood >= least) return { at, point, halvings };
  }
  return undefined;
}

function moved(from: Float64Array, step: readonly number[], share: number): Float64Array {
  return from.map((value, k) => value + share * (step[k] ?? 0));
}

function decrementOf({ score }: LikelihoodPoint, step: readonly number[]): number {
  return Math.max(
    0,
    step.reduce((sum, value, k) => sum + value * (score[k] ?? 0), 0),
  );
}

function isFinitePoint({ logLikelihood, score, information }: LikelihoodPoint): boolean {
  if (!Number.isFinite(logLikelihood)) return false;
  for (let k = 0; k < score.length; k += 1) {
    if (!Number.isFinite(score[k]) || !Number.isFinite(information[k]?.[k])) return false;
  }
  return true;
}
