import type { CountsByTime, CountsCell } from "./counts.ts";
import { type CurveOptions, curveWithin } from "./kaplan-meier.ts";
import type { SurvivalCurve } from "./results.ts";
import { riskSteps } from "./risk-steps.ts";

/**
 * How long cases would have been followed had nobody died or had the event.
 *
 * Kaplan–Meier with the end of observation as its event. Cases with an event of any cause, death among them, leave first on
 * their tick and are not at risk of ending observation on it; a plain reversal would keep them and give another median.
 * `timeToFraction(curve, 0.5)` is the median follow-up, 0.25 and 0.75 its quartiles.
 *
 * Source: Schemper and Smith 1996, with events taken out before censorings on the same tick.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * reverseFollowUp(counts).groups[0]?.survival; // [1, 0.667, 0.667, 0]
 */
export function reverseFollowUp(
  counts: CountsByTime,
  options: Omit<CurveOptions, "event"> = {},
): SurvivalCurve {
  // Strata first: between its own ticks a stratum has as many at risk as at its next one, those with an event there too.
  const together = strataTogether(counts);
  // Who has the event is under observation on its tick, though no longer at risk of the end of observation.
  return curveWithin({ ...together, causes: [END], cells: together.cells.map(reversed) }, together, options);
}

const END = "end of observation";

function strataTogether(counts: CountsByTime): CountsByTime {
  const cells = counts.groups.map((_, group) => {
    const { cases, time, atRisk, events, censored } = riskSteps(counts, group);
    const own = counts.cells.filter((cell) => cell.group === group);
    const ticksAtRisk = own.reduce((sum, cell) => sum + cell.ticksAtRisk, 0);
    const entered = new Float64Array(time.length);
    return { group, stratum: 0, cases, time, atRisk, events, censored, entered, ticksAtRisk };
  });
  return { ...counts, strata: ["all"], cells };
}

/** Ends of observation as the event, with those who have the event of the counts taken out before. */
function reversed(cell: CountsCell): CountsCell {
  const atRisk = cell.atRisk.map((count, step) =>
    cell.events.reduce((rest, cause) => rest - (cause[step] ?? 0), count),
  );
  return { ...cell, atRisk, events: [cell.censored], censored: new Float64Array(atRisk.length) };
}
