import { computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { type TimeUnit, tickOfYear, yearsOfTicks } from "../base/time-unit.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { poissonLimits } from "../numeric/poisson.ts";
import type { CountsByTime } from "./counts.ts";
import { causeIndex } from "./event-roles.ts";
import type { RatePeriod, RevisionRate } from "./results.ts";
import { type RiskSteps, riskSteps } from "./risk-steps.ts";

export interface RateOptions {
  /** Causes counted as events. Default all. */
  readonly event?: readonly string[];
  /** Upper ends of the periods in years; the last period is open. [3, 5] means 0–3, 3–5, over 5. Default one period. */
  readonly periods?: readonly number[];
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

interface Span {
  readonly fromYear: number;
  readonly toYear: number | null;
  /** Ticks after `from`, up to and including `to`. */
  readonly from: number;
  readonly to: number;
}

/**
 * Events per 100 unit-years under observation, by group and declared period.
 *
 * Periods are (a, b]; an event on tick 0 belongs to the first. Time under observation is split at the ends of periods
 * in whole ticks, and ends at an event of any cause. Limits: exact Poisson; with no event seen the lower limit is 0 and
 * the upper one the two-sided limit, 3.689 events at 95 %. Copies count as many times as they stand for; sampling
 * weights give no rate.
 *
 * Source: exact limits after Garwood 1936.
 *
 * @example
 * const counts = countsByTime({ exit: [10, 20, 30, 40], event: [1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * revisionRate(counts).periods[0]; // 2 events in 100 unit-years: 2 per 100, 0.24 to 7.22
 */
export function revisionRate(counts: CountsByTime, options: RateOptions = {}): RevisionRate {
  const { event = counts.causes, periods = [], level = 0.95 } = options;
  requireLevel("revisionRate", level);
  const wanted = event.map((name) => causeIndex("revisionRate", counts.causes, name));
  const spans = spansOf(periods, counts.timeUnit);
  return {
    kind: "revisionRate",
    settings: { level, method: "exact", event: [...event] },
    periods: counts.groups.flatMap((_, group) => {
      const steps = riskSteps(counts, group);
      return spans.map((span) => ratePeriod(steps, wanted, span, level, counts));
    }),
  };
}

function spansOf(periods: readonly number[], unit: TimeUnit): Span[] {
  const ends = [...periods.map((year) => ({ year, tick: tickOfYear(year, unit) })), undefined];
  return ends.map((end, index) => {
    const start = ends[index - 1] ?? { year: 0, tick: Number.NEGATIVE_INFINITY };
    const span = {
      fromYear: start.year,
      toYear: end?.year ?? null,
      from: start.tick,
      to: end?.tick ?? Number.POSITIVE_INFINITY,
    };
    // Written so that NaN fails as well.
    if (!(span.to > Math.max(0, span.from))) {
      throw new ArgumentError(
        `revisionRate: periods must be years above 0 in ascending order, at least one ${unit.word} apart; received ${periods.join(", ")}`,
      );
    }
    return span;
  });
}

function ratePeriod(
  steps: RiskSteps,
  wanted: readonly number[],
  span: Span,
  level: number,
  counts: CountsByTime,
): RatePeriod {
  const { time, shown } = steps;
  let [events, ticks, before] = [0, 0, 0];
  for (let step = 0; step < time.length; step++) {
    const tick = time[step] ?? 0;
    // Between two steps nobody comes or goes, so the count at the later one holds for the whole gap.
    const shared = Math.min(tick, span.to) - Math.max(before, span.from);
    if (shared > 0) ticks += (shown.atRisk[step] ?? 0) * shared;
    if (tick > span.from && tick <= span.to)
      for (const cause of wanted) events += shown.events[cause]?.[step] ?? 0;
    before = tick;
  }
  const unitYears = yearsOfTicks(ticks, counts.timeUnit);
  const rate = counts.weightKind === "sampling" ? SAMPLED : exactRate(events, unitYears, level);
  return { group: steps.group, fromYear: span.fromYear, toYear: span.toYear, events, unitYears, rate };
}

const SAMPLED = notComputed(
  "sampling-weights",
  "exact limits need whole counts, and sampling weights are not counts",
);

function exactRate(events: number, unitYears: number, level: number): RatePeriod["rate"] {
  if (!(unitYears > 0))
    return notComputed("nobody-under-observation", "nobody was under observation in this period");
  if (!Number.isInteger(events))
    return notComputed("fractional-copies", "exact limits need whole counts of copies");
  const { lower, upper } = poissonLimits(events, { level });
  const per100 = (count: number) => (100 * count) / unitYears;
  return computed({ per100: per100(events), lower: per100(lower), upper: per100(upper) });
}
