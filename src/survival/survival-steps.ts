import { type Answer, computed, notComputed } from "../base/answer.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";
import { numbered } from "../base/words.ts";
import { drawnTo } from "./drawn-to.ts";
import { type EventRoles, eventsInRole } from "./event-roles.ts";
import type { SurvivalPath } from "./product-limit.ts";
import type { LimitSource, SurvivalSteps, YearValue } from "./results.ts";
import { emptiedAt, stopUnlessEmptied } from "./risk-set-emptied.ts";
import { atRiskAt, type RiskSteps, stepsUpTo } from "./risk-steps.ts";
import { type SurvivalLimitOptions, survivalLimits } from "./survival-limits.ts";
import { yearRefusal } from "./year-refusal.ts";

export interface SurvivalStepOptions {
  readonly roles: EventRoles;
  readonly path: SurvivalPath;
  readonly limits: SurvivalLimitOptions;
  readonly years: readonly number[];
  readonly timeUnit: TimeUnit;
  /** Under observation at each step, where that is more than at risk of the event. Default at risk. */
  readonly present?: Float64Array;
}

/** One group's curve as a result: limits, stop rule and year values round an estimate and its standard errors. */
export function survivalSteps(steps: RiskSteps, options: SurvivalStepOptions): SurvivalSteps {
  const { path, roles, limits, timeUnit } = options;
  const { time, shown } = steps;
  const eventsAt = eventsInRole({ events: shown.events, time }, roles.wanted);
  const emptied = emptiedAt(time, options.present ?? steps.atRisk, path.survival);
  const stop = stopUnlessEmptied(drawnTo(time, shown.atRisk), emptied);
  const curve = {
    group: steps.group,
    cases: steps.cases,
    events: eventsAt.reduce((sum, events) => sum + events, 0),
    time: [...time],
    atRisk: [...shown.atRisk],
    eventsAt: [...eventsAt],
    censoredAt: censoredOrOther(steps, roles),
    survival: [...path.survival],
    ...limitColumns(path, shown.atRisk, limits),
    followedTo: time[time.length - 1] ?? 0,
    emptiedAt: emptied,
    drawnTo: stop,
  };
  return { ...curve, atYears: options.years.map((year) => valueAtYear(year, curve, limits, timeUnit)) };
}

// One pass and no record kept a step: a curve of every day of twenty years has 7,000 of them.
function limitColumns(
  { survival, standardError }: SurvivalPath,
  atRisk: Float64Array,
  options: SurvivalLimitOptions,
) {
  const columns = {
    standardError: [] as (number | null)[],
    lower: [] as (number | null)[],
    upper: [] as (number | null)[],
    limits: [] as LimitSource[],
  };
  survival.forEach((value, step) => {
    const error = standardError[step] ?? 0;
    const interval = survivalLimits(value, error, atRisk[step] ?? 0, options);
    columns.standardError.push(value === 0 ? null : error);
    columns.lower.push(interval.lower);
    columns.upper.push(interval.upper);
    columns.limits.push(interval.limits);
  });
  return columns;
}

/** Whoever leaves without the event asked about counts as censored, a case with another cause as well. */
function censoredOrOther({ shown, time }: RiskSteps, { wanted }: EventRoles): number[] {
  const other = eventsInRole(
    { events: shown.events, time },
    wanted.map((isWanted) => !isWanted),
  );
  return [...shown.censored.map((censored, step) => censored + (other[step] ?? 0))];
}

type CurveSoFar = Omit<SurvivalSteps, "atYears">;

function valueAtYear(
  year: number,
  curve: CurveSoFar,
  options: SurvivalLimitOptions,
  timeUnit: TimeUnit,
): Answer<YearValue> {
  const refusal = yearRefusal(year, { ...curve, timeUnit });
  if (refusal !== undefined) return refusal;
  const tick = tickOfYear(year, timeUnit);
  const steps = stepsUpTo(curve.time, tick);
  const value = curve.survival[steps - 1] ?? 1;
  const standardError = steps === 0 ? 0 : curve.standardError[steps - 1];
  if (typeof standardError !== "number") {
    return notComputed(
      "nobody-left",
      `everyone still under observation had the event by ${numbered(year, "year")}`,
    );
  }
  const atRisk = atRiskAt(curve.time, curve.atRisk, tick);
  const events = curve.eventsAt.slice(0, steps).reduce((sum, count) => sum + count, 0);
  return computed({
    year,
    tick,
    value,
    standardError,
    ...survivalLimits(value, standardError, atRisk, options),
    atRisk,
    events,
  });
}
