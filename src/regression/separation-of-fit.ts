import type { NotComputed } from "../base/answer.ts";
import { chiSquareUpperQuantile } from "../numeric/chi-square.ts";
import type { LikelihoodPoint } from "../numeric/newton.ts";
import type { Separation } from "./coefficient.ts";
import type { LikelihoodFit } from "./likelihood-fit.ts";
import { type Profile, profileLimit, ratioTestOf } from "./likelihood-profile.ts";

/** Test and one-sided limit of every coefficient that runs to infinity, by place; or why no likelihood gives them. */
export function separationsOf(
  profile: Profile | NotComputed,
  axes: readonly (readonly number[])[],
  { runs }: LikelihoodFit<LikelihoodPoint>,
  level: number,
): ReadonlyMap<number, Separation> {
  const fall = chiSquareUpperQuantile(1 - level, 1);
  const found = new Map<number, Separation>();
  axes.forEach((axis, place) => {
    const run = runs[place] ?? 0;
    if (run === 0) return;
    const tends = run > 0 ? "up" : "down";
    if ("code" in profile) {
      found.set(place, { tends, likelihoodRatio: profile, limit: profile });
      return;
    }
    const inner = axis.reduce((sum, weight, at) => sum + weight * (profile.at[at] ?? 0), 0);
    const limit = profileLimit(profile, axis, { inner, step: -run * longest(axis), fall });
    found.set(place, {
      tends,
      likelihoodRatio: ratioTestOf(profile, axis),
      limit: limit.computed ? { ...limit, side: run > 0 ? "lower" : "upper" } : limit,
    });
  });
  return found;
}

function longest(axis: readonly number[]): number {
  return axis.reduce((most, weight) => Math.max(most, Math.abs(weight)), 0);
}
