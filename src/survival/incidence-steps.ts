import { type Answer, computed } from "../base/answer.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";
import { drawnTo } from "./drawn-to.ts";
import { type EventRoles, eventsInRole } from "./event-roles.ts";
import { type IncidenceLimitOptions, incidenceLimits } from "./incidence-limits.ts";
import type { IncidencePath } from "./incidence-path.ts";
import { plainNumbers } from "./plain-numbers.ts";
import type { IncidenceSteps, LimitSource, YearValue } from "./results.ts";
import { emptiedAt, stopUnlessEmptied } from "./risk-set-emptied.ts";
import { atRiskAt, type RiskSteps, stepsUpTo } from "./risk-steps.ts";
import { yearRefusal } from "./year-refusal.ts";

export interface IncidenceStepsOptions {
  readonly cause: string;
  readonly roles: EventRoles;
  readonly path: IncidencePath;
  readonly limits: IncidenceLimitOptions;
  readonly years: readonly number[];
  readonly timeUnit: TimeUnit;
}

/** Puts a group's path into the plain record of one cause, with limits at each step and values at years. */
export function incidenceSteps(steps: RiskSteps, options: IncidenceStepsOptions): IncidenceSteps {
  const { cause, roles, path, limits, timeUnit } = options;
  const { time, shown } = steps;
  const events = eventsInRole({ time, events: shown.events }, roles.wanted);
  const standardError = plainNumbers(path.variance.map(Math.sqrt));
  const result = {
    group: steps.group,
    cause,
    cases: steps.cases,
    events: events.reduce((sum, count) => sum + count, 0),
    time: plainNumbers(time),
    atRisk: plainNumbers(shown.atRisk),
    eventsAt: plainNumbers(events),
    competingAt: plainNumbers(eventsInRole({ time, events: shown.events }, roles.competing)),
    censoredAt: plainNumbers(shown.censored),
    incidence: plainNumbers(path.incidence),
    standardError,
    ...limitsOfSteps(path.incidence, standardError, shown.atRisk, limits),
    followedTo: time.at(-1) ?? 0,
    drawnTo: stopUnlessEmptied(drawnTo(time, shown.atRisk), emptiedAt(time, steps.atRisk, path.eventFree)),
  };
  return { ...result, atYears: options.years.map((year) => yearValue(result, year, limits, timeUnit)) };
}

/** Parallel arrays, filled as they go: one record a step would be most of the work of a curve. */
function limitsOfSteps(
  incidence: ArrayLike<number>,
  standardError: readonly number[],
  atRisk: ArrayLike<number>,
  options: IncidenceLimitOptions,
): Pick<IncidenceSteps, "lower" | "upper" | "limits"> {
  const arrays = {
    lower: new Array<number | null>(standardError.length),
    upper: new Array<number | null>(standardError.length),
    limits: new Array<LimitSource>(standardError.length),
  };
  standardError.forEach((error, step) => {
    const { lower, upper, limits } = incidenceLimits(incidence[step] ?? 0, error, atRisk[step] ?? 0, options);
    arrays.lower[step] = lower;
    arrays.upper[step] = upper;
    arrays.limits[step] = limits;
  });
  return arrays;
}

function yearValue(
  curve: Omit<IncidenceSteps, "atYears">,
  year: number,
  options: IncidenceLimitOptions,
  timeUnit: TimeUnit,
): Answer<YearValue> {
  const refusal = yearRefusal(year, { ...curve, timeUnit });
  if (refusal !== undefined) return refusal;
  const tick = tickOfYear(year, timeUnit);
  const steps = stepsUpTo(curve.time, tick);
  const value = curve.incidence[steps - 1] ?? 0;
  const standardError = curve.standardError[steps - 1] ?? 0;
  const atRisk = atRiskAt(curve.time, curve.atRisk, tick);
  const events = curve.eventsAt.slice(0, steps).reduce((sum, count) => sum + count, 0);
  return computed({
    year,
    tick,
    value,
    standardError,
    ...incidenceLimits(value, standardError, atRisk, options),
    atRisk,
    events,
  });
}
