import type { Answer } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";
import { requireLevel, requirePositive } from "../numeric/argument-checks.ts";
import type { Contrast, DifferenceContrast } from "./contrast.ts";
import type { CountsByTime } from "./counts.ts";
import { eventIndexes, eventsInRole, netRoles } from "./event-roles.ts";
import { normalReference, type SharesOrNone } from "./few-clusters.ts";
import { areaUnder } from "./restricted-area.ts";
import { compareMeans, meanOfGroup, type Spread } from "./restricted-contrasts.ts";
import { riskSteps } from "./risk-steps.ts";

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
  /** Clusters among the rows; null where rows are not clustered. */
  readonly clusters: number | null;
  /** Degrees of freedom of the t in use; null means normal. */
  readonly degreesOfFreedom: number | null;
}

/** A group against the first one: difference in years, and ratios of time kept and time lost. */
export interface RestrictedMeanComparison {
  readonly groups: readonly [string, string];
  readonly difference: DifferenceContrast;
  readonly ratio: Answer<Contrast>;
  readonly ratioOfYearsLost: Answer<Contrast>;
  /** Clusters with rows in one of the two groups, or in both. */
  readonly clusters: number | null;
}

export interface RestrictedMean {
  readonly kind: "restrictedMean";
  readonly settings: {
    readonly level: number;
    readonly event: readonly string[];
    readonly toYear: number;
    readonly toTick: number;
    /** Word of the cluster the variance is taken over; null means independent cases. */
    readonly clusteredBy: string | null;
    /** How that variance was widened; left out where rows are not clustered. */
    readonly smallSample?: SharesOrNone;
  };
  readonly groups: readonly Answer<GroupRestrictedMean>[];
  /** Each later group against the first: first minus later, first over later. */
  readonly comparisons: readonly Answer<RestrictedMeanComparison>[];
}

/**
 * How many of the first years pass without the event, on average, if nobody left for another reason first.
 *
 * Area under the Kaplan–Meier curve up to the last whole tick within `toYear`. Variance: Greenwood-type, without a
 * small-sample factor; rows count as independent (with clusters: `clusteredRestrictedMean`). Refused for a group whose follow-up ends earlier, unless its curve has
 * reached 0, and for a group without the event, whose spread cannot be estimated. No assumption of proportional hazards.
 *
 * @throws ArgumentError for sampling weights, whose variance needs rows: see `clusteredRestrictedMean`.
 *
 * Source: Royston and Parmar 2013; Uno and others 2014.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * restrictedMean(counts, { toYear: 3 }).groups[0]; // 2.4 of the first 3 years, 1.70 to 3.00
 */
export function restrictedMean(counts: CountsByTime, options: RestrictedMeanOptions): RestrictedMean {
  const { toYear, event = counts.causes, level = 0.95 } = options;
  const toTick = requireHorizon("restrictedMean", toYear, level, counts.timeUnit);
  if (counts.weightKind === "sampling") {
    throw new ArgumentError(
      "restrictedMean: sampling weights have no variance from counts; use clusteredRestrictedMean on the rows",
    );
  }
  const roles = netRoles(counts.causes, eventIndexes("restrictedMean", counts.causes, event));
  const reference = normalReference(level);
  const spread: Spread = { reference, clusters: null };
  const groups = counts.groups.map((_, group) => {
    const steps = riskSteps(counts, group);
    const area = areaUnder(steps.time, steps.atRisk, eventsInRole(steps, roles.wanted), toTick);
    return meanOfGroup(steps, area, area.variance, { toTick, timeUnit: counts.timeUnit, ...spread });
  });
  const [first] = groups;
  return {
    kind: "restrictedMean",
    settings: { level, event: [...event], toYear, toTick, clusteredBy: null },
    groups,
    // Rows of two groups are independent of each other, so their covariance is 0.
    comparisons: groups
      .slice(1)
      .map((other) =>
        compareMeans(first, other, () => ({ covariance: 0, clusters: null, referenceOf: () => reference })),
      ),
  };
}

/** The last whole tick within the horizon; refuses a horizon or level that is none. */
export function requireHorizon(where: string, toYear: number, level: number, timeUnit: TimeUnit): number {
  requireLevel(where, level);
  requirePositive(where, "toYear", toYear);
  const toTick = tickOfYear(toYear, timeUnit);
  if (toTick === 0) throw new ArgumentError(`${where}: toYear lies within the first ${timeUnit.word}`);
  return toTick;
}
