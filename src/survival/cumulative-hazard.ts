import { ArgumentError } from "../base/errors.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import { requireLevel } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import type { CountsByTime } from "./counts.ts";
import { type DrawnTo, drawnTo } from "./drawn-to.ts";
import { eventIndexes, eventsInRole, netRoles } from "./event-roles.ts";
import { plainNumbers } from "./plain-numbers.ts";
import type { LimitSource } from "./results.ts";
import { riskSteps } from "./risk-steps.ts";

export interface HazardOptions {
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
}

/** One group's cumulative hazard. Parallel arrays over the ticks at which anything happened. */
export interface HazardSteps {
  readonly group: string;
  readonly cases: number;
  readonly events: number;
  readonly time: readonly number[];
  readonly atRisk: readonly number[];
  readonly eventsAt: readonly number[];
  readonly hazard: readonly number[];
  readonly standardError: readonly number[];
  readonly lower: readonly (number | null)[];
  readonly upper: readonly (number | null)[];
  readonly limits: readonly LimitSource[];
  readonly followedTo: number;
  readonly drawnTo: DrawnTo;
}

export interface CumulativeHazard {
  readonly kind: "cumulativeHazard";
  readonly settings: { readonly level: number; readonly event: readonly string[] };
  readonly timeUnit: TimeUnit;
  readonly groups: readonly HazardSteps[];
}

/**
 * Hazard of an event gathered up to each tick: its slope shows whether risk rises or falls with time.
 *
 * Nelson–Aalen, Σ d / n, with Aalen's variance Σ d / n², per group over all strata. At risk is (entry, exit]. Limits are
 * symmetric on the log scale; with no event seen the upper one is −log of the exact binomial limit of survival.
 *
 * @throws ArgumentError for sampling weights, whose variance needs rows.
 *
 * Source: Nelson 1969; Aalen 1978.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * cumulativeHazard(counts); // 0.2, 0.45, 0.95
 */
export function cumulativeHazard(counts: CountsByTime, options: HazardOptions = {}): CumulativeHazard {
  const { event = counts.causes, level = 0.95 } = options;
  requireLevel("cumulativeHazard", level);
  if (counts.weightKind === "sampling") {
    throw new ArgumentError("cumulativeHazard: sampling weights have no variance from counts");
  }
  const roles = netRoles(counts.causes, eventIndexes("cumulativeHazard", counts.causes, event));
  return {
    kind: "cumulativeHazard",
    settings: { level, event: [...event] },
    timeUnit: counts.timeUnit,
    groups: counts.groups.map((_, group) => hazardSteps(counts, group, roles.wanted, level)),
  };
}

function hazardSteps(
  counts: CountsByTime,
  group: number,
  wanted: readonly boolean[],
  level: number,
): HazardSteps {
  const { time, atRisk, cases, shown, group: label, ...rest } = riskSteps(counts, group);
  const eventsAt = eventsInRole({ time, events: rest.events }, wanted);
  let [hazard, variance] = [0, 0];
  const steps = plainNumbers(time).map((_, step) => {
    const [n, d] = [atRisk[step] ?? 0, eventsAt[step] ?? 0];
    if (d > 0) {
      hazard += d / n;
      variance += d / (n * n);
    }
    const standardError = Math.sqrt(variance);
    return { hazard, standardError, ...hazardLimits(hazard, standardError, n, level) };
  });
  return {
    group: label,
    cases,
    events: eventsAt.reduce((sum, count) => sum + count, 0),
    time: plainNumbers(time),
    atRisk: plainNumbers(shown.atRisk),
    eventsAt: plainNumbers(eventsAt),
    hazard: steps.map((step) => step.hazard),
    standardError: steps.map((step) => step.standardError),
    lower: steps.map((step) => step.lower),
    upper: steps.map((step) => step.upper),
    limits: steps.map((step) => step.limits),
    followedTo: time.at(-1) ?? 0,
    drawnTo: drawnTo(time, shown.atRisk),
  };
}

function hazardLimits(hazard: number, standardError: number, atRisk: number, level: number) {
  const tail = (1 - level) / 2;
  if (hazard > 0) {
    const factor = Math.exp((normalUpperQuantile(tail) * standardError) / hazard);
    return { lower: hazard / factor, upper: hazard * factor, limits: "variance" as const };
  }
  if (!(atRisk > 0)) return { lower: null, upper: null, limits: "nobody left" as const };
  return { lower: 0, upper: -Math.log(tail) / atRisk, limits: "none seen" as const };
}
