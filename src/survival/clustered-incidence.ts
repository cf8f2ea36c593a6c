import { checkObservations } from "./check-observations.ts";
import { clusteredVariance } from "./clustered-variance.ts";
import { countsByTime } from "./counts-by-time.ts";
import type { IncidenceOptions } from "./cumulative-incidence.ts";
import { crudeRoles, type EventRoles, eventsInRole } from "./event-roles.ts";
import { referenceFor } from "./few-clusters.ts";
import { incidencePath } from "./incidence-path.ts";
import { incidenceSteps } from "./incidence-steps.ts";
import type { PathSteps } from "./influence.ts";
import { requireCurveOptions } from "./kaplan-meier.ts";
import type { ObservationColumns, Observations } from "./observations.ts";
import type { CumulativeIncidence } from "./results.ts";
import { type RiskSteps, riskSteps } from "./risk-steps.ts";
import { type RowOrder, rowOrder } from "./row-order.ts";
import { rowsByCell } from "./rows-by-cell.ts";
import { independentUnits, type Units, unitsSeen } from "./units.ts";

/**
 * Share of cases that have had each cause by each time, with the variance taken over clusters of rows.
 *
 * Estimates as `cumulativeIncidence`. The variance is the sum over clusters of squared influence (infinitesimal
 * jackknife), with no small-sample factor; below 30 clusters in a group limits use t on its clusters − 1, and a group of one
 * cluster has none. Without clusters each case is its own: that is the variance for sampling weights. Limits stay the
 * same when all sampling weights are multiplied by one number.
 *
 * @example
 * const rows = {
 *   exit: [1, 2, 3, 4, 5, 6, 7, 8],
 *   event: [1, 0, 1, 1, 0, 1, 0, 1],
 *   group: { codes: [0, 0, 0, 0, 1, 1, 1, 1], labels: ["a", "b"] },
 *   cluster: { codes: [0, 1, 2, 3, 0, 1, 2, 3], word: "surgeon" },
 *   timeUnit: TIME_UNITS.year,
 * };
 * clusteredIncidence(rows).curves[0]?.incidence; // [0.25, 0.25, 0.625, 1]
 */
export function clusteredIncidence(
  columns: ObservationColumns,
  options: IncidenceOptions = {},
): CumulativeIncidence {
  const { level = 0.95, scale = "log-minus-log", years = [] } = options;
  const observations = checkObservations(columns);
  requireCurveOptions("clusteredIncidence", observations.causes, {
    level,
    scale,
    event: observations.causes,
    years,
  });
  const counts = countsByTime(observations);
  const units = independentUnits(observations, true);
  const cells = rowsByCell(observations);
  const curves = counts.groups.flatMap((_, group) => {
    const steps = riskSteps(counts, group);
    const reference = referenceFor(clustersIn(observations, units, group), level);
    const limits = { level, scale, quantile: reference?.quantile };
    const order = groupOrder(observations, cells, group, units, steps.time);
    return counts.causes.map((cause, index) => {
      const roles = crudeRoles(counts.causes, index);
      const path = pathSteps(steps, roles);
      const variance = clusteredVariance(roles, path, order);
      return incidenceSteps(steps, {
        cause,
        roles,
        path: { ...path.path, variance },
        limits,
        years,
        timeUnit: counts.timeUnit,
      });
    });
  });
  return {
    kind: "cumulativeIncidence",
    settings: { level, scale, clusteredBy: units.word },
    timeUnit: counts.timeUnit,
    curves,
  };
}

/** A group's steps in the given roles, with the path of its incidence. */
export function pathSteps(steps: RiskSteps, roles: EventRoles): PathSteps {
  const { time, atRisk } = steps;
  const wanted = eventsInRole(steps, roles.wanted);
  const competing = eventsInRole(steps, roles.competing);
  return { time, atRisk, wanted, competing, path: incidencePath(atRisk, wanted, competing) };
}

/** The rows of a group over its strata, in order of time. `cells` are those of `rowsByCell`. */
export function groupOrder(
  observations: Observations,
  cells: readonly Uint32Array[],
  group: number,
  units: Units,
  time: Int32Array,
): RowOrder {
  const strata = observations.stratum.labels.length;
  return rowOrder(observations, cells.slice(group * strata, (group + 1) * strata), units, time);
}

/** Clusters among the rows of a group; null where rows are not clustered. */
export function clustersIn(observations: Observations, units: Units, group: number): number | null {
  return units.word === null ? null : unitsSeen(observations, units, [group]);
}
