import { type Answer, computed } from "../base/answer.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";
import { type DrawnTo, drawnTo } from "./drawn-to.ts";
import { type EventRoles, eventsInRole } from "./event-roles.ts";
import { type IncidenceLimitOptions, incidenceLimits } from "./incidence-limits.ts";
import type { IncidencePath } from "./incidence-path.ts";
import type { IncidenceSteps, YearValue } from "./results.ts";
import { riskSetEmptied } from "./risk-set-emptied.ts";
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
  const standardError = [...path.variance].map(Math.sqrt);
  const bounds = standardError.map((error, step) =>
    incidenceLimits(path.incidence[step] ?? 0, error, shown.atRisk[step] ?? 0, limits),
  );
  const result = {
    group: steps.group,
    cause,
    cases: steps.cases,
    events: events.reduce((sum, count) => sum + count, 0),
    time: [...time],
    atRisk: [...shown.atRisk],
    eventsAt: [...events],
    competingAt: [...eventsInRole({ time, events: shown.events }, roles.competing)],
    censoredAt: [...shown.censored],
    incidence: [...path.incidence],
    standardError,
    lower: bounds.map((bound) => bound.lower),
    upper: bounds.map((bound) => bound.upper),
    limits: bounds.map((bound) => bound.limits),
    followedTo: time.at(-1) ?? 0,
    drawnTo: stopOf(steps, path, timeUnit),
  };
  return { ...result, atYears: options.years.map((year) => yearValue(result, year, limits, timeUnit)) };
}

function stopOf({ time, atRisk, shown }: RiskSteps, path: IncidencePath, timeUnit: TimeUnit): DrawnTo {
  const stop = drawnTo(time, shown.atRisk);
  if (!stop.computed) return stop;
  // A tick before the risk set emptied may still be drawn to.
  return riskSetEmptied(time, atRisk, path.eventFree, stop.tick - 1, timeUnit) ?? stop;
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
