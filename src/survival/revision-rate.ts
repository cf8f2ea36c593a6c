import { computed, notComputed } from "../base/answer.ts";
import { yearsOfTicks } from "../base/time-unit.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { countLimits, requireCountLimitMethod } from "./count-limits.ts";
import type { CountsByTime } from "./counts.ts";
import { eventIndexes } from "./event-roles.ts";
import { isInSpan, type RateSpan, rateSpans, ticksInSpan } from "./rate-spans.ts";
import { RATE_METHODS, type RateMethod, type RatePeriod, type RevisionRate } from "./results.ts";
import { type RiskSteps, riskSteps } from "./risk-steps.ts";

export interface RateOptions {
  /** Causes counted as events. Default all. */
  readonly event?: readonly string[];
  /** Upper ends of the periods in years; the last period is open. [3, 5] means 0–3, 3–5, over 5. Default one period. */
  readonly periods?: readonly number[];
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** "exact" (default) or "mid-p": narrower, and the level holds only on average. */
  readonly method?: RateMethod;
}

interface RateSetting {
  readonly level: number;
  readonly method: RateMethod;
  readonly counts: CountsByTime;
}

/**
 * Events per 100 unit-years under observation, by group and declared period.
 *
 * Periods are (a, b]; an event on tick 0 belongs to the first. Time under observation is split at the ends of periods
 * in whole ticks, and ends at an event of any cause. Limits: exact or mid-P Poisson; with no event seen the lower limit is 0 and
 * the upper one the two-sided limit, exact 3.689 events at 95 %. Copies count as many times as they stand for; sampling
 * weights give no rate.
 *
 * Source: exact limits after Garwood 1936.
 *
 * @example
 * const counts = countsByTime({ exit: [10, 20, 30, 40], event: [1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * revisionRate(counts).periods[0]; // 2 events in 100 unit-years: 2 per 100, 0.24 to 7.22
 */
export function revisionRate(counts: CountsByTime, options: RateOptions = {}): RevisionRate {
  const { event = counts.causes, periods = [], level = 0.95, method = "exact" } = options;
  requireLevel("revisionRate", level);
  requireCountLimitMethod("revisionRate", method, RATE_METHODS);
  const wanted = eventIndexes("revisionRate", counts.causes, event);
  const spans = rateSpans("revisionRate", periods, counts.timeUnit);
  return {
    kind: "revisionRate",
    settings: { level, method, event: [...event] },
    periods: counts.groups.flatMap((_, group) => {
      const steps = riskSteps(counts, group);
      return spans.map((span) => ratePeriod(steps, wanted, span, { level, method, counts }));
    }),
  };
}

function ratePeriod(
  steps: RiskSteps,
  wanted: readonly number[],
  span: RateSpan,
  { level, method, counts }: RateSetting,
): RatePeriod {
  const { time, shown } = steps;
  let [events, ticks, before] = [0, 0, 0];
  for (let step = 0; step < time.length; step++) {
    const tick = time[step] ?? 0;
    // Between two steps nobody comes or goes, so the count at the later one holds for the whole gap.
    ticks += (shown.atRisk[step] ?? 0) * ticksInSpan(before, tick, span);
    if (isInSpan(tick, span)) for (const cause of wanted) events += shown.events[cause]?.[step] ?? 0;
    before = tick;
  }
  const unitYears = yearsOfTicks(ticks, counts.timeUnit);
  const rate = counts.weightKind === "sampling" ? SAMPLED : limitedRate(events, unitYears, level, method);
  return { group: steps.group, fromYear: span.fromYear, toYear: span.toYear, events, unitYears, rate };
}

const SAMPLED = notComputed(
  "sampling-weights",
  "exact limits need whole counts, and sampling weights are not counts",
);

function limitedRate(
  events: number,
  unitYears: number,
  level: number,
  method: RateMethod,
): RatePeriod["rate"] {
  if (!(unitYears > 0))
    return notComputed("nobody-under-observation", "nobody was under observation in this period");
  if (!Number.isInteger(events))
    return notComputed("fractional-copies", "exact limits need whole counts of copies");
  const { lower, upper } = countLimits(events, level, method);
  const per100 = (count: number) => (100 * count) / unitYears;
  return computed({ per100: per100(events), lower: per100(lower), upper: per100(upper) });
}
