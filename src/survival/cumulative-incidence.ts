import { ArgumentError } from "../base/errors.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";
import type { CountsByTime } from "./counts.ts";
import { crudeRoles, eventsInRole } from "./event-roles.ts";
import { incidencePath } from "./incidence-path.ts";
import { incidenceSteps } from "./incidence-steps.ts";
import { requireCurveOptions } from "./kaplan-meier.ts";
import type { CumulativeIncidence, IntervalScale } from "./results.ts";
import { riskSteps } from "./risk-steps.ts";

export interface IncidenceOptions {
  /** Confidence level, strictly between 0 and 1. Default 0.95. */
  readonly level?: number;
  /** Scale on which the interval is symmetric. Default "log-minus-log", on 1 − incidence. */
  readonly scale?: IntervalScale;
  /** Years at which values are read off. Default none. */
  readonly years?: readonly number[];
}

/**
 * Share of cases that have had each cause by each time, in a world where the other causes happen too.
 *
 * Aalen–Johansen, per group over all strata. Causes on one tick share one risk set. The incidences of all causes and
 * the share with none of them add up to 1. Variance: Greenwood-type, which is the infinitesimal jackknife where there
 * are neither weights, clusters nor delayed entry. With no event seen the upper limit is the exact binomial one on the
 * number at risk. Values at years stop where `drawnTo` stops.
 *
 * Sampling weights are refused: their variance needs rows, see `clusteredIncidence`.
 *
 * Source: Aalen and Johansen 1978; variance as in Marubini and Valsecchi 1995.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 3, 4], event: [1, 2, 0, 1], causes: ["revision", "death"] });
 * cumulativeIncidence(counts).curves[0].incidence; // [0.25, 0.25, 0.25, 0.75]
 */
export function cumulativeIncidence(
  counts: CountsByTime,
  options: IncidenceOptions = {},
): CumulativeIncidence {
  const { level = 0.95, scale = "log-minus-log", years = [] } = options;
  requireCurveOptions("cumulativeIncidence", counts.causes, { level, scale, event: counts.causes, years });
  if (counts.weightKind === "sampling") {
    throw new ArgumentError(
      "cumulativeIncidence: sampling weights have no variance from counts; use clusteredIncidence on the rows",
    );
  }
  const limits = { level, scale, quantile: normalUpperQuantile((1 - level) / 2) };
  const curves = counts.groups.flatMap((_, group) => {
    const steps = riskSteps(counts, group);
    return counts.causes.map((cause, index) => {
      const roles = crudeRoles(counts.causes, index);
      const wanted = eventsInRole(steps, roles.wanted);
      const path = incidencePath(steps.atRisk, wanted, eventsInRole(steps, roles.competing));
      return incidenceSteps(steps, { cause, roles, path, limits, years, timeUnit: counts.timeUnit });
    });
  });
  return {
    kind: "cumulativeIncidence",
    settings: { level, scale, clusteredBy: null },
    timeUnit: counts.timeUnit,
    curves,
  };
}

/** Share with none of the causes after each step of a group: with the incidences it adds up to 1. */
export function eventFreeShare(counts: CountsByTime, group: number): { time: number[]; share: number[] } {
  const steps = riskSteps(counts, group);
  const all = eventsInRole(
    steps,
    counts.causes.map(() => true),
  );
  const path = incidencePath(steps.atRisk, all, new Float64Array(all.length));
  return { time: [...steps.time], share: [...path.eventFree] };
}
