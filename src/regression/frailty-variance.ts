import { type FitReport, newtonMaximum } from "../numeric/newton.ts";
import { rootBetween } from "../numeric/root-between.ts";
import {
  type FrailtyModel,
  type FrailtyPoint,
  frailtyLikelihood,
  slopeByVariance,
} from "./frailty-likelihood.ts";

/** The fit at one variance of the frailty. */
export interface FrailtyFitAt {
  readonly variance: number;
  readonly beta: Float64Array;
  readonly point: FrailtyPoint;
  readonly report: FitReport;
  /** Change of the highest likelihood with the variance. */
  readonly slope: number;
}

/** Fits at any variance, each begun where the last one ended. */
export function frailtyFits(model: FrailtyModel, beta: Float64Array): (variance: number) => FrailtyFitAt {
  let start: { readonly beta: Float64Array; readonly log: Float64Array } = {
    beta,
    log: new Float64Array(model.clusters.count),
  };
  return (variance) => {
    const evaluate = frailtyLikelihood(model, variance, start.log);
    const first = evaluate(start.beta);
    const { at, point, report } = newtonMaximum(evaluate, start.beta, { first });
    if (report.converged && point.effects.converged) start = { beta: at, log: point.effects.log };
    return { variance, beta: at, point, report, slope: slopeByVariance(model, point, variance) };
  };
}

// Where the likelihood is looked at for a rise: the variance of most frailties lies between the first and the last.
const LOOKED_AT = [0.1, 0.4, 1.6];
const STRIDE = 4;
const [LEAST, MOST] = [1e-7, 1e5];

/** The variance at which the integrated likelihood is highest; 0 where it falls from there, undefined where it never ends rising. */
export function likeliestVariance(
  fitAt: (variance: number) => FrailtyFitAt,
  slopeAtZero: number,
): number | undefined {
  const rises = (variance: number) => fitAt(variance).slope > 0;
  let low = LOOKED_AT.find(rises);
  for (let below = LOOKED_AT[0]! / STRIDE; low === undefined; below /= STRIDE) {
    if (slopeAtZero <= 0 || below < LEAST) return 0;
    if (rises(below)) low = below;
  }
  let high = low * STRIDE;
  while (rises(high)) {
    if (high > MOST) return undefined;
    low = high;
    high *= STRIDE;
  }
  // On the log scale, on which the slope is nearer to a straight line.
  const slope = (log: number) => Math.exp(log) * fitAt(Math.exp(log)).slope;
  return Math.exp(rootBetween(slope, Math.log(low), Math.log(high), { relativeTolerance: 1e-9 }).root);
}

/**
 * Variances at which twice the likelihood has fallen by `fall` from its top; the lower one is 0 where it never falls that far,
 * the upper one undefined.
 */
export function varianceLimits(
  fitAt: (variance: number) => FrailtyFitAt,
  variance: number,
  { top, atZero, fall }: { readonly top: number; readonly atZero: number; readonly fall: number },
): { readonly lower: number; readonly upper: number | undefined } {
  // The root of the fall, on the log scale, is nearly a straight line.
  const over = (value: number) =>
    Math.sqrt(Math.max(0, 2 * (top - fitAt(value).point.logLikelihood))) - Math.sqrt(fall);
  const between = (low: number, high: number) =>
    Math.exp(
      rootBetween((log) => over(Math.exp(log)), Math.log(low), Math.log(high), { relativeTolerance: 1e-7 })
        .root,
    );
  let [near, far] = [Math.max(variance, LEAST), Math.max(2 * variance, LOOKED_AT[0]!)];
  while (over(far) <= 0 && far < MOST) [near, far] = [far, 2 * far];
  const upper = far < MOST ? between(near, far) : undefined;
  if (!(variance > 0) || 2 * (top - atZero) <= fall) return { lower: 0, upper };
  [near, far] = [variance, variance / 2];
  while (over(far) <= 0 && far > LEAST) [near, far] = [far, far / 2];
  return { lower: far > LEAST ? between(far, near) : 0, upper };
}
