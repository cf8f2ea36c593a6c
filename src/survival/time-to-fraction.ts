import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import { requireInnerProbability } from "../numeric/argument-checks.ts";
import type { SurvivalCurve, SurvivalSteps } from "./results.ts";
import { emptiedRefusal } from "./risk-set-emptied.ts";

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
 * The first tick on which survival is at most 1 − fraction, also where the curve then runs flat at that height. Limits
 * come from the pointwise limits of the curve, so they follow its scale and level: the upper is the first tick on which
 * the upper limit is at most 1 − fraction, the lower the first from which on no lower limit lies above it. The two
 * are the same rule, because survival never rises: only few at risk before the first event make them differ. What is
 * never reached says how far follow-up went. Refused where the answer would lie at or beyond a risk set that emptied
 * early.
 *
 * Source: Brookmeyer and Crowley 1982 for the limits.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * timeToFraction(kaplanMeier(counts), 0.5).groups[0]; // estimate reached: true, on tick 3
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
    return emptiedRefusal();
  }
  return computed({
    estimate,
    lower: firstPastAllAbove(steps, height),
    upper: firstAtOrBelow(steps, steps.upper, height),
  });
}

/** A lower limit above the height at a late tick rules out all earlier ones. */
function firstPastAllAbove({ time, lower, followedTo }: SurvivalSteps, height: number): TimeReached {
  const most = height * (1 + RELATIVE_TOLERANCE);
  const tick = time[lower.findLastIndex((limit) => limit !== null && limit > most) + 1];
  return tick === undefined ? { reached: false, followedTo } : { reached: true, tick };
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
