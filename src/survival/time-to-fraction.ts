import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import { requireInnerProbability } from "../numeric/argument-checks.ts";
import type { SurvivalCurve, SurvivalSteps } from "./results.ts";

/** A tick, or how far follow-up went without reaching one. */
export type TimeReached =
  | { readonly reached: true; readonly tick: number }
  | { readonly reached: false; readonly followedTo: number };

export interface TimeToFraction {
  readonly kind: "timeToFraction";
  readonly settings: SurvivalCurve["settings"] & { readonly fraction: number };
  readonly timeUnit: TimeUnit;
  readonly groups: readonly {
    readonly group: string;
    readonly time: Answer<{
      readonly estimate: TimeReached;
      readonly lower: TimeReached;
      readonly upper: TimeReached;
    }>;
  }[];
}

// Products of fractions miss a share such as one half by a last digit: twelve equal steps of 24 leave 0.5000000000000001.
const RELATIVE_TOLERANCE = 1e-12;

/**
 * How long until a given share has had the event: one half for the median.
 *
 * The first tick on which survival is at most 1 − fraction, also where the curve then runs flat at that height; the
 * limits are the first ticks on which the pointwise limits are, so they follow the scale and level of the curve. What is
 * never reached says how far follow-up went. Before the first event the lower limit rests on the exact binomial one, so
 * a long wait with few at risk is not taken for certainty. Refused where the answer would lie at or beyond a risk set
 * that emptied early.
 *
 * Source: Brookmeyer and Crowley 1982 for the limits.
 *
 * @example
 * timeToFraction(kaplanMeier(counts), 0.5).groups[0]?.time; // estimate reached on tick 23, …
 */
export function timeToFraction(curve: SurvivalCurve, fraction: number): TimeToFraction {
  requireInnerProbability("timeToFraction", "fraction", fraction);
  return {
    kind: "timeToFraction",
    settings: { ...curve.settings, fraction },
    timeUnit: curve.timeUnit,
    groups: curve.groups.map((steps) => ({ group: steps.group, time: timeOf(steps, 1 - fraction) })),
  };
}

function timeOf(steps: SurvivalSteps, height: number): TimeToFraction["groups"][number]["time"] {
  if (steps.time.length === 0) return notComputed("no-cases", "the group holds no case");
  const estimate = firstAtOrBelow(steps, steps.survival, height);
  if (steps.emptiedAt !== null && (!estimate.reached || estimate.tick >= steps.emptiedAt)) {
    return notComputed(
      "risk-set-emptied",
      "nobody was left under observation before the answer was reached, although others came later; use the conditional curve",
    );
  }
  return computed({
    estimate,
    // At survival 0 there are no limits, but no lower limit lies above the estimate.
    lower: firstAtOrBelow(
      steps,
      steps.lower.map((limit, step) => (steps.survival[step] === 0 ? 0 : limit)),
      height,
    ),
    upper: firstAtOrBelow(steps, steps.upper, height),
  });
}

function firstAtOrBelow(
  { time, followedTo }: SurvivalSteps,
  heights: readonly (number | null)[],
  height: number,
): TimeReached {
  const most = height * (1 + RELATIVE_TOLERANCE);
  const step = heights.findIndex((value) => value !== null && value <= most);
  const tick = time[step];
  return tick === undefined ? { reached: false, followedTo } : { reached: true, tick };
}
