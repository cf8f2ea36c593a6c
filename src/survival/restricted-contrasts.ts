import { type Answer, computed, notComputed } from "../base/answer.ts";
import { type TimeUnit, yearsOfTicks } from "../base/time-unit.ts";
import { differenceContrast, ratioContrast } from "./contrast.ts";
import type { Reference } from "./few-clusters.ts";
import type { RestrictedArea } from "./restricted-area.ts";
import type { GroupRestrictedMean, RestrictedMeanComparison } from "./restricted-mean.ts";
import { riskSetEmptied } from "./risk-set-emptied.ts";
import type { RiskSteps } from "./risk-steps.ts";

/** What a standard error is referred to; no reference where there is a single cluster. */
export interface Spread {
  readonly reference: Reference | undefined;
  readonly clusters: number | null;
}

/** What two means have in common. */
interface Shared {
  readonly covariance: number;
  readonly clusters: number | null;
  readonly referenceOf: (alpha: number, beta: number) => Reference | undefined;
}

interface Horizon extends Spread {
  readonly toTick: number;
  readonly timeUnit: TimeUnit;
}

// Squares that cancel keep half their digits: below this share of the groups' own spread there is only rounding.
const LEAST_SPREAD = 1e-6;
const ONE_CLUSTER = notComputed("too-few-clusters", "a single cluster shows no spread");
const NO_SPREAD_BETWEEN = notComputed(
  "no-spread",
  "the clusters leave no independent variation between the groups",
);

/** One group's mean with its limits, or why there is none. The variance is in squared ticks. */
export function meanOfGroup(
  steps: RiskSteps,
  area: RestrictedArea,
  variance: number,
  { toTick, timeUnit, reference, clusters }: Horizon,
): Answer<GroupRestrictedMean> {
  if (steps.time.length === 0) return notComputed("no-cases", `group ${steps.group} holds no case`);
  const followedTo = steps.time.at(-1) ?? 0;
  if (followedTo < toTick && area.survival.at(-1) !== 0) {
    return notComputed(
      "beyond-follow-up",
      `follow-up of group ${steps.group} ends on ${timeUnit.word} ${followedTo}, before ${toTick}`,
    );
  }
  const emptied = riskSetEmptied(steps.time, steps.atRisk, area.survival, toTick);
  if (emptied !== undefined) return emptied;
  if (area.lost === 0) {
    return notComputed("no-events-in-a-group", `nobody in group ${steps.group} has lost time to the event`);
  }
  // Influence adds up to nothing over a group, so clusters that share nothing may still leave rounding errors.
  if (area.variance === 0 || !(variance > 1e-24 * toTick * toTick)) {
    return area.variance === 0
      ? notComputed("no-spread", `all events of group ${steps.group} fall on one ${timeUnit.word}`)
      : notComputed("no-spread", `the clusters of group ${steps.group} leave no independent variation`);
  }
  if (reference === undefined) return ONE_CLUSTER;
  const years = yearsOfTicks(area.kept, timeUnit);
  const standardError = yearsOfTicks(Math.sqrt(variance), timeUnit);
  return computed({
    group: steps.group,
    years,
    yearsLost: yearsOfTicks(area.lost, timeUnit),
    standardError,
    lower: Math.max(0, years - reference.quantile * standardError),
    upper: Math.min(yearsOfTicks(toTick, timeUnit), years + reference.quantile * standardError),
    clusters,
    degreesOfFreedom: reference.degreesOfFreedom,
  });
}

/**
 * First group against a later one. `shared` gives the covariance of the two means in squared years, and what α times the first
 * mean minus β times the other is referred to; it is asked only where both means exist.
 */
export function compareMeans(
  first: Answer<GroupRestrictedMean> | undefined,
  other: Answer<GroupRestrictedMean>,
  shared: () => Shared,
): Answer<RestrictedMeanComparison> {
  if (first === undefined) return notComputed("nothing-to-compare", "there is no first group");
  if (!first.computed) return first;
  if (!other.computed) return other;
  const { covariance, referenceOf, clusters } = shared();
  const ofDifference = referenceOf(1, 1);
  if (ofDifference === undefined) return ONE_CLUSTER;
  const [a, b] = [first.standardError, other.standardError];
  // Standard error of α times the first mean minus β times the other; 0 where clusters move both alike.
  const errorOf = (alpha: number, beta: number) => {
    const squares = alpha * alpha * a * a + beta * beta * b * b;
    const error = Math.sqrt(Math.max(0, squares - 2 * alpha * beta * covariance));
    return error > LEAST_SPREAD * Math.max(alpha * a, beta * b) ? error : 0;
  };
  const standardError = errorOf(1, 1);
  if (standardError === 0) return NO_SPREAD_BETWEEN;
  const ratio = (value: (mean: GroupRestrictedMean) => number) => {
    const [alpha, beta] = [1 / value(first), 1 / value(other)];
    const error = errorOf(alpha, beta);
    if (error === 0) return NO_SPREAD_BETWEEN;
    return ratioContrast(value(first), value(other), error, referenceOf(alpha, beta) ?? ofDifference);
  };
  return computed({
    groups: [first.group, other.group] as const,
    difference: differenceContrast(first.years, other.years, standardError, ofDifference),
    ratio: ratio((mean) => mean.years),
    ratioOfYearsLost: ratio((mean) => mean.yearsLost),
    clusters,
  });
}
