import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { tickOfYear, yearsOfTicks } from "../base/time-unit.ts";
import { requireLevel, requirePositive } from "../numeric/argument-checks.ts";
import { normalTwoSided, normalUpperQuantile } from "../numeric/normal.ts";
import type { CountsByTime } from "./counts.ts";
import { eventIndexes, eventsInRole, netRoles } from "./event-roles.ts";
import { areaUnder } from "./restricted-area.ts";
import { riskSetEmptied } from "./risk-set-emptied.ts";
import { type RiskSteps, riskSteps } from "./risk-steps.ts";

export interface RestrictedMeanOptions {
  /** Years up to which time is counted. */
  readonly toYear: number;
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

/** Mean time without the event out of the first years, and the time lost to it, both in years. */
export interface GroupRestrictedMean {
  readonly group: string;
  readonly years: number;
  readonly yearsLost: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
}

export interface Contrast {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
  readonly p: number;
}

/** A group against the first one: difference in years, and ratios of time kept and time lost. */
export interface RestrictedMeanComparison {
  readonly groups: readonly [string, string];
  readonly difference: Contrast & { readonly standardError: number };
  readonly ratio: Answer<Contrast>;
  readonly ratioOfYearsLost: Answer<Contrast>;
}

export interface RestrictedMean {
  readonly kind: "restrictedMean";
  readonly settings: {
    readonly level: number;
    readonly event: readonly string[];
    readonly toYear: number;
    readonly toTick: number;
  };
  readonly groups: readonly Answer<GroupRestrictedMean>[];
  /** Each later group against the first: first minus later, first over later. */
  readonly comparisons: readonly Answer<RestrictedMeanComparison>[];
}

/**
 * How many of the first years pass without the event, on average, if nobody left for another reason first.
 *
 * Area under the Kaplan–Meier curve up to the last whole tick within `toYear`. Variance: Greenwood-type, without a
 * small-sample factor; rows count as independent. Refused for a group whose follow-up ends earlier, unless its curve has
 * reached 0, and for a group without the event, whose spread cannot be estimated. No assumption of proportional hazards.
 *
 * @throws ArgumentError for sampling weights, whose variance needs rows.
 *
 * Source: Royston and Parmar 2013; Uno and others 2014.
 */
export function restrictedMean(counts: CountsByTime, options: RestrictedMeanOptions): RestrictedMean {
  const { toYear, event = counts.causes, level = 0.95 } = options;
  requireLevel("restrictedMean", level);
  requirePositive("restrictedMean", "toYear", toYear);
  if (counts.weightKind === "sampling") {
    throw new ArgumentError("restrictedMean: sampling weights have no variance from counts");
  }
  const roles = netRoles(counts.causes, eventIndexes("restrictedMean", counts.causes, event));
  const toTick = tickOfYear(toYear, counts.timeUnit);
  if (toTick === 0)
    throw new ArgumentError(`restrictedMean: toYear lies within the first ${counts.timeUnit.word}`);
  const quantile = normalUpperQuantile((1 - level) / 2);
  const groups = counts.groups.map((_, group) =>
    groupMean(riskSteps(counts, group), roles.wanted, { toTick, counts, quantile }),
  );
  const [first] = groups;
  return {
    kind: "restrictedMean",
    settings: { level, event: [...event], toYear, toTick },
    groups,
    comparisons: groups.slice(1).map((other) => compare(first, other, quantile)),
  };
}

interface Horizon {
  readonly toTick: number;
  readonly counts: CountsByTime;
  readonly quantile: number;
}

function groupMean(
  steps: RiskSteps,
  wanted: readonly boolean[],
  { toTick, counts, quantile }: Horizon,
): Answer<GroupRestrictedMean> {
  if (steps.time.length === 0) return notComputed("no-cases", `group ${steps.group} holds no case`);
  const area = areaUnder(steps.time, steps.atRisk, eventsInRole(steps, wanted), toTick);
  const followedTo = steps.time.at(-1) ?? 0;
  if (followedTo < toTick && area.survival.at(-1) !== 0) {
    return notComputed(
      "beyond-follow-up",
      `follow-up of group ${steps.group} ends on ${counts.timeUnit.word} ${followedTo}, before ${toTick}`,
    );
  }
  const emptied = riskSetEmptied(steps.time, steps.atRisk, area.survival, toTick);
  if (emptied !== undefined) return emptied;
  if (area.variance === 0) {
    return area.lost === 0
      ? notComputed("no-events-in-a-group", `nobody in group ${steps.group} has lost time to the event`)
      : notComputed("no-spread", `all events of group ${steps.group} fall on one ${counts.timeUnit.word}`);
  }
  const years = yearsOfTicks(area.kept, counts.timeUnit);
  const standardError = yearsOfTicks(Math.sqrt(area.variance), counts.timeUnit);
  return computed({
    group: steps.group,
    years,
    yearsLost: yearsOfTicks(area.lost, counts.timeUnit),
    standardError,
    lower: Math.max(0, years - quantile * standardError),
    upper: Math.min(yearsOfTicks(toTick, counts.timeUnit), years + quantile * standardError),
  });
}

function compare(
  first: Answer<GroupRestrictedMean> | undefined,
  other: Answer<GroupRestrictedMean>,
  quantile: number,
): Answer<RestrictedMeanComparison> {
  if (first === undefined) return notComputed("nothing-to-compare", "there is no first group");
  if (!first.computed) return first;
  if (!other.computed) return other;
  const estimate = first.years - other.years;
  const standardError = Math.hypot(first.standardError, other.standardError);
  if (standardError === 0) return notComputed("no-spread", "neither group's mean varies");
  return computed({
    groups: [first.group, other.group] as const,
    difference: {
      estimate,
      standardError,
      lower: estimate - quantile * standardError,
      upper: estimate + quantile * standardError,
      p: normalTwoSided(estimate / standardError),
    },
    ratio: ratioOf(first, other, (mean) => mean.years, quantile),
    ratioOfYearsLost: ratioOf(first, other, (mean) => mean.yearsLost, quantile),
  });
}

/** Ratio with limits on the log scale, by the delta method. */
function ratioOf(
  first: GroupRestrictedMean,
  other: GroupRestrictedMean,
  value: (mean: GroupRestrictedMean) => number,
  quantile: number,
): Answer<Contrast> {
  const [a, b] = [value(first), value(other)];
  if (!(a > 0 && b > 0)) return notComputed("ratio-of-zero", "one of the two means is 0");
  const log = Math.log(a / b);
  const error = Math.hypot(first.standardError / a, other.standardError / b);
  return computed({
    estimate: a / b,
    lower: Math.exp(log - quantile * error),
    upper: Math.exp(log + quantile * error),
    p: normalTwoSided(log / error),
  });
}
