import { ArgumentError } from "../base/errors.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import type { CountsByTime } from "./counts.ts";
import { eventIndexes, eventsInRole, netRoles } from "./event-roles.ts";
import { productLimit } from "./product-limit.ts";
import { INTERVAL_SCALES, type IntervalScale, type SurvivalCurve } from "./results.ts";
import { riskSteps } from "./risk-steps.ts";
import { stepsAfter } from "./steps-after.ts";
import { survivalSteps } from "./survival-steps.ts";

export interface CurveOptions {
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Scale on which the interval is symmetric. Default "log-minus-log". */
  readonly scale?: IntervalScale;
  /** Names of the causes that count as the event; the others end follow-up like a censoring. Default all. */
  readonly event?: readonly string[];
  /** Years at which values are read off. Default none. */
  readonly years?: readonly number[];
  /** Only those at risk after this tick: the curve is conditional on no event up to it. Default from the start. */
  readonly from?: number;
}

/**
 * Share still without the event after each tick, if nobody left for another reason first.
 *
 * Product-limit estimate per group, strata put together. At risk is (entry, exit]: a case censored on the tick of an
 * event is at risk for it, one that enters on it is not. Variance: Greenwood. Before the first event the lower limit is
 * the exact binomial one on the number at risk; where survival is 0 there are no limits. After `followedTo` the curve is
 * undefined, not flat; values at years stop with `drawnTo`. With delayed entry a risk set may empty early and hold the
 * curve at 0 for ever: `emptiedAt` says so, year values are refused beyond it, and `from` gives the conditional curve.
 *
 * @throws ArgumentError for sampling weights, whose variance needs rows: see `clusteredSurvival`.
 *
 * Source: Kaplan and Meier 1958; Greenwood 1926.
 *
 * @example
 * kaplanMeier(countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0] })).groups[0].survival;
 * // 0.8, 0.6, 0.3, 0.3
 */
export function kaplanMeier(counts: CountsByTime, options: CurveOptions = {}): SurvivalCurve {
  return curveWithin(counts, counts, options);
}

/** As `kaplanMeier`; whether a risk set emptied early is told by `present`, counts with the same ticks. */
export function curveWithin(
  counts: CountsByTime,
  present: CountsByTime,
  options: CurveOptions,
): SurvivalCurve {
  const { level = 0.95, scale = "log-minus-log", event = counts.causes, years = [], from } = options;
  requireCurveOptions("kaplanMeier", counts.causes, { level, scale, event, years, from });
  if (counts.weightKind === "sampling") {
    throw new ArgumentError(
      "kaplanMeier: sampling weights have no variance from counts; use clusteredSurvival on the rows",
    );
  }
  const roles = netRoles(counts.causes, eventIndexes("kaplanMeier", counts.causes, event));
  const limits = { level, scale, quantile: normalUpperQuantile((1 - level) / 2) };
  return {
    kind: "survivalCurve",
    settings: { level, scale, event: [...event], clusteredBy: null, from: from ?? null },
    timeUnit: counts.timeUnit,
    groups: counts.groups.map((_, group) => {
      const steps = stepsAfter(riskSteps(counts, group), from);
      const path = productLimit(steps.atRisk, eventsInRole(steps, roles.wanted));
      const under = present === counts ? steps : stepsAfter(riskSteps(present, group), from);
      return survivalSteps(steps, {
        roles,
        path,
        limits,
        years,
        timeUnit: counts.timeUnit,
        present: under.atRisk,
      });
    }),
  };
}

/** Refuses settings no curve can have. */
export function requireCurveOptions(
  where: string,
  causes: readonly string[],
  {
    level,
    scale,
    event,
    years,
    from,
  }: Required<Omit<CurveOptions, "from">> & { readonly from?: number | undefined },
): void {
  requireLevel(where, level);
  if (!INTERVAL_SCALES.includes(scale)) {
    throw new ArgumentError(
      `${where}: scale must be one of ${INTERVAL_SCALES.join(", ")}; received "${scale}"`,
    );
  }
  eventIndexes(where, causes, event);
  for (const year of years) {
    if (!Number.isFinite(year) || year < 0) {
      throw new ArgumentError(`${where}: years must be finite and not negative; received ${year}`);
    }
  }
  if (from !== undefined && (!Number.isSafeInteger(from) || from < 0)) {
    throw new ArgumentError(`${where}: from must be a whole tick from 0 up; received ${from}`);
  }
}
