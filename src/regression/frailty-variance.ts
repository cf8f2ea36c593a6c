import { type FitReport, newtonMaximum } from "../numeric/newton.ts";
import { rootBetween } from "../numeric/root-between.ts";
import type { Following } from "./frailty-effects.ts";
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
  /** At the coefficients, which lie the last step beyond the point. */
  readonly logLikelihood: number;
  /** Change of the highest likelihood with the variance. */
  readonly slope: number;
}

/** Fits at any variance, each begun where the last one ended: to search among, unless the one asked for is to be "settled". */
export type FrailtyFits = (variance: number, following?: Following) => FrailtyFitAt;

// A last step of 1e-4 standard errors leaves 1e-12 of the likelihood, and of the frailties 1e-8 of their own way, untold.
const TOLERANCE = { searching: 1e-8, settled: 1e-18 } as const;

/** `expected`: events that each cluster would have without a frailty of its own. */
export function frailtyFits(model: FrailtyModel, beta: Float64Array, expected: Float64Array): FrailtyFits {
  let start = { beta, expected };
  return (variance, following = "searching") => {
    const log = likeliestFrailties(model.clusters, start.expected, variance);
    const evaluate = frailtyLikelihood(model, variance, log, following);
    const first = evaluate(start.beta);
    const tolerance = TOLERANCE[following];
    const { at, point, report } = newtonMaximum(evaluate, start.beta, { first, tolerance });
    if (report.converged && point.effects.converged) start = { beta: at, expected: withoutFrailty(point) };
    return {
      variance,
      beta: at,
      point,
      report,
      logLikelihood: point.logLikelihood + (report.converged ? report.decrement / 2 : 0),
      slope: slopeByVariance(model, point.followedTo(at), variance),
    };
  };
}

/** Log frailties (ν + events)/(ν + expected), with ν one over the variance: where they would be if the baseline stayed. */
function likeliestFrailties(
  { events }: FrailtyModel["clusters"],
  expected: Float64Array,
  variance: number,
): Float64Array {
  return expected.map((own, cluster) => Math.log1p(variance * events[cluster]!) - Math.log1p(variance * own));
}

function withoutFrailty({ effects: { log, curvature } }: FrailtyPoint): Float64Array {
  return curvature.expected.map((own, cluster) => own / Math.exp(log[cluster]!));
}

// Where the likelihood is looked at for a rise: the variance of most frailties lies between the first and the last.
const LOOKED_AT = [0.1, 0.4, 1.6];
const STRIDE = 4;
const [LEAST, MOST] = [1e-7, 1e5];

/** The variance at which the integrated likelihood is highest; 0 where it falls from there, undefined where it never ends rising. */
export function likeliestVariance(fitAt: FrailtyFits, slopeAtZero: number): number | undefined {
  const slopes = new Map<number, number>();
  // On the log scale, on which the slope is nearer to a straight line.
  const slopeAt = (variance: number) => {
    const slope = slopes.get(variance) ?? variance * fitAt(variance).slope;
    slopes.set(variance, slope);
    return slope;
  };
  const rises = (variance: number) => slopeAt(variance) > 0;
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
  const { root } = rootBetween((log) => slopeAt(Math.exp(log)), Math.log(low), Math.log(high), {
    relativeTolerance: 1e-9,
    atLow: slopeAt(low),
    atHigh: slopeAt(high),
  });
  return Math.exp(root);
}

/**
 * Variances at which twice the likelihood has fallen by `fall` from its top; the lower one is 0 where it never falls that far,
 * the upper one undefined.
 */
export function varianceLimits(
  fitAt: FrailtyFits,
  variance: number,
  { top, atZero, fall }: { readonly top: number; readonly atZero: number; readonly fall: number },
): { readonly lower: number; readonly upper: number | undefined } {
  // The root of the fall, on the log scale, is nearly a straight line.
  const over = (value: number) =>
    Math.sqrt(Math.max(0, 2 * (top - fitAt(value).logLikelihood))) - Math.sqrt(fall);
  const between = (inside: Looked, outside: Looked) => {
    const [low, high] = inside.variance < outside.variance ? [inside, outside] : [outside, inside];
    const { root } = rootBetween(
      (log) => over(Math.exp(log)),
      Math.log(low.variance),
      Math.log(high.variance),
      {
        relativeTolerance: 1e-7,
        atLow: low.over,
        atHigh: high.over,
      },
    );
    return Math.exp(root);
  };
  const look = (value: number): Looked => ({ variance: value, over: over(value) });
  const highest = variance > 0 ? { variance, over: -Math.sqrt(fall) } : look(LEAST);
  let [near, far] = [highest, look(Math.max(2 * variance, LOOKED_AT[0]!))];
  while (far.over <= 0 && far.variance < MOST) [near, far] = [far, look(2 * far.variance)];
  const upper = far.variance < MOST ? between(near, far) : undefined;
  if (!(variance > 0) || 2 * (top - atZero) <= fall) return { lower: 0, upper };
  [near, far] = [highest, look(variance / 2)];
  while (far.over <= 0 && far.variance > LEAST) [near, far] = [far, look(far.variance / 2)];
  return { lower: far.variance > LEAST ? between(near, far) : 0, upper };
}

/** By how much the root of twice the fall is over what is asked, at a variance. */
interface Looked {
  readonly variance: number;
  readonly over: number;
}
