import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { type CurveOptions, kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import type { SurvivalSteps } from "../../src/survival/results.ts";

/** The curve of the group at a place; a group that is not there fails the test. */
export function curveOf(columns: ObservationColumns, options: CurveOptions = {}, group = 0): SurvivalSteps {
  const steps = kaplanMeier(countsByTime(columns), options).groups[group];
  if (steps === undefined) throw new Error(`no group ${group}`);
  return steps;
}

/** Parallel arrays at the ticks with an event only, as most published tables have them. */
export function eventRows(steps: SurvivalSteps) {
  const at = steps.time.flatMap((_, step) => ((steps.eventsAt[step] ?? 0) > 0 ? [step] : []));
  const pick = <Value>(values: readonly Value[]) => at.flatMap((step) => values.slice(step, step + 1));
  return {
    time: pick(steps.time),
    atRisk: pick(steps.atRisk),
    events: pick(steps.eventsAt),
    survival: pick(steps.survival),
    standardError: pick(steps.standardError),
    lower: pick(steps.lower),
    upper: pick(steps.upper),
    limits: pick(steps.limits),
  };
}

/** Survival at a tick: the step at or before it. */
export function survivalAt(steps: SurvivalSteps, tick: number): number {
  const step = steps.time.findLastIndex((time) => time <= tick);
  return step < 0 ? 1 : (steps.survival[step] ?? Number.NaN);
}
