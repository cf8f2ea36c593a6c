import type { CountsByTime, CountsCell } from "./counts.ts";
import { type CurveOptions, kaplanMeier } from "./kaplan-meier.ts";
import type { SurvivalCurve } from "./results.ts";

/**
 * How long cases would have been followed had nobody died or had the event.
 *
 * Kaplan–Meier with the end of observation as its event. Cases with an event of any cause, death among them, leave first on
 * their tick and are not at risk of ending observation on it; a plain reversal would keep them and give another median.
 * `timeToFraction(curve, 0.5)` is the median follow-up, 0.25 and 0.75 its quartiles.
 *
 * Source: Schemper and Smith 1996, with events taken out before censorings on the same tick.
 */
export function reverseFollowUp(
  counts: CountsByTime,
  options: Omit<CurveOptions, "event"> = {},
): SurvivalCurve {
  return kaplanMeier({ ...counts, causes: [END], cells: counts.cells.map(reversed) }, options);
}

const END = "end of observation";

function reversed(cell: CountsCell): CountsCell {
  const { weighted, ...rest } = cell;
  return { ...rest, ...turned(cell), ...(weighted && { weighted: turned(weighted) }) };
}

function turned({ atRisk, events, censored }: Pick<CountsCell, "atRisk" | "events" | "censored">) {
  const left = atRisk.map((count, step) => events.reduce((rest, cause) => rest - (cause[step] ?? 0), count));
  return { atRisk: left, events: [censored], censored: new Float64Array(left.length) };
}
