import { type Answer, computed, notComputed } from "../base/answer.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { type LikelihoodPoint, type NewtonOptions, newtonMaximum } from "../numeric/newton.ts";
import { rootBetween } from "../numeric/root-between.ts";
import { type AffineSpace, alongAxes, freeAt, holding, withoutPlaces } from "./affine-likelihood.ts";
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

// A likelihood within this of its top is known well enough for a test; slope squared in units of standard errors.
const SETTLED = 1e-6;
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
  const held = topWithin(profile, space);
  if (held === undefined)
    return notComputed("not-converged", "the fit without the term did not come to an end");
  const chiSquare = Math.max(0, 2 * (profile.top - held));
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
  const over = (value: number) => {
    const held = topWithin(profile, holding(axis, value));
    if (held === undefined) lost = true;
    return 2 * (profile.top - (held ?? profile.top)) - fall;
  };
  let near = inner;
  let stride = step;
  let far = inner + stride;
  for (let doubling = 0; over(far) <= 0; doubling += 1) {
    if (lost) return notComputed("not-converged", "a fit along the profile did not come to an end");
    if (doubling === MOST_DOUBLINGS)
      return notComputed("no-limit", "the likelihood never falls far enough on this side");
    near = far;
    stride *= 2;
    far = inner + stride;
  }
  const { root } = rootBetween(over, Math.min(near, far), Math.max(near, far), { relativeTolerance: 1e-11 });
  if (lost) return notComputed("not-converged", "a fit along the profile did not come to an end");
  return computed({ value: root });
}

function topWithin({ evaluate, at, start, newton }: Profile, space: AffineSpace): number | undefined {
  for (const from of [at, start]) {
    const { point, report } = newtonMaximum(alongAxes(evaluate, space), freeAt(space, from), newton);
    const isLevel = report.reason === "levelling-off" || report.decrement < SETTLED;
    if (report.converged || isLevel) return point.logLikelihood;
  }
  return undefined;
}
