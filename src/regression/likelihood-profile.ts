import { type Answer, computed, notComputed } from "../base/answer.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { type LikelihoodPoint, type NewtonOptions, newtonMaximum } from "../numeric/newton.ts";
import { rootBetween } from "../numeric/root-between.ts";
import { type AffineSpace, alongAxes, freeAt, holding, pointAt, withoutPlaces } from "./affine-likelihood.ts";
import type { ModelTest } from "./cox-result.ts";

/** A likelihood with its top, from which tests and limits are read. */
export interface Profile {
  readonly evaluate: (at: Float64Array) => LikelihoodPoint;
  readonly at: ArrayLike<number>;
  /** Where the climb began: a place from which every likelihood can be climbed, even where the top lies far out. */
  readonly start: ArrayLike<number>;
  readonly top: number;
  readonly newton?: NewtonOptions;
}

// A likelihood within half of this of its top is known well enough for a test, and for a limit; slope squared in units of
// standard errors.
const SETTLED = 1e-6;
const SETTLED_FOR_A_LIMIT = 1e-14;
const MOST_DOUBLINGS = 40;

/** Likelihood-ratio test that the coefficients at `places` are 0. */
export function ratioTest(profile: Profile, places: readonly number[]): Answer<ModelTest> {
  return ratioAgainst(profile, withoutPlaces(profile.at.length, places), places.length);
}

/** Likelihood-ratio test that one combination of the coefficients is 0. */
export function ratioTestOf(profile: Profile, axis: readonly number[]): Answer<ModelTest> {
  return ratioAgainst(profile, holding(axis, 0), 1);
}

function ratioAgainst(profile: Profile, space: AffineSpace, degreesOfFreedom: number): Answer<ModelTest> {
  const held = topWithin(profile, space, [profile.at, profile.start]);
  if (held === undefined)
    return notComputed("not-converged", "the fit without the term did not come to an end");
  const chiSquare = Math.max(0, 2 * (profile.top - held.logLikelihood));
  return computed({
    chiSquare,
    degreesOfFreedom,
    p: chiSquareUpper(chiSquare, degreesOfFreedom),
    variance: "model",
    degreesBeneath: null,
  });
}

/**
 * Where twice the fall of the profile likelihood reaches `fall`, going from `inner` in steps of `step`, whose sign is the
 * side.
 */
export function profileLimit(
  profile: Profile,
  axis: readonly number[],
  { inner, step, fall }: { readonly inner: number; readonly step: number; readonly fall: number },
): Answer<{ readonly value: number }> {
  let lost = false;
  let last = profile.at;
  const over = (value: number) => {
    const held = topWithin(profile, holding(axis, value), [last, profile.at, profile.start]);
    if (held === undefined) lost = true;
    last = held?.at ?? profile.at;
    return 2 * (profile.top - (held?.logLikelihood ?? profile.top)) - fall;
  };
  let [near, atNear] = [inner, -fall];
  let stride = step;
  let far = inner + stride;
  let atFar = over(far);
  for (let doubling = 0; atFar <= 0; doubling += 1) {
    if (lost) return notComputed("not-converged", "a fit along the profile did not come to an end");
    if (doubling === MOST_DOUBLINGS)
      return notComputed("no-limit", "the likelihood never falls far enough on this side");
    [near, atNear] = [far, atFar];
    stride *= 2;
    far = inner + stride;
    atFar = over(far);
  }
  const ends = near < far ? { atLow: atNear, atHigh: atFar } : { atLow: atFar, atHigh: atNear };
  const { root } = rootBetween(over, Math.min(near, far), Math.max(near, far), {
    relativeTolerance: 1e-11,
    ...ends,
  });
  if (lost) return notComputed("not-converged", "a fit along the profile did not come to an end");
  return computed({ value: root });
}

interface Top {
  readonly at: Float64Array;
  readonly logLikelihood: number;
}

/** The top among what is held, climbed to from the first of some places from which that can be done. */
function topWithin(
  { evaluate, newton }: Profile,
  space: AffineSpace,
  places: readonly ArrayLike<number>[],
): Top | undefined {
  for (const from of places) {
    const { at, point, report } = newtonMaximum(alongAxes(evaluate, space), freeAt(space, from), {
      tolerance: SETTLED_FOR_A_LIMIT,
      ...newton,
    });
    const isLevel = report.reason === "levelling-off" || report.decrement < SETTLED;
    if (report.converged || isLevel) return { at: pointAt(space, at), logLikelihood: point.logLikelihood };
  }
  return undefined;
}
