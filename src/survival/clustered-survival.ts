import { checkObservations } from "./check-observations.ts";
import { clustersIn, groupOrder, pathSteps } from "./clustered-incidence.ts";
import { clusteredVariance } from "./clustered-variance.ts";
import { countsByTime } from "./counts-by-time.ts";
import { eventIndexes, netRoles } from "./event-roles.ts";
import { referenceFor } from "./few-clusters.ts";
import { type CurveOptions, requireCurveOptions } from "./kaplan-meier.ts";
import type { ObservationColumns } from "./observations.ts";
import { productLimit } from "./product-limit.ts";
import type { SurvivalCurve } from "./results.ts";
import { riskSteps } from "./risk-steps.ts";
import { rowsByCell } from "./rows-by-cell.ts";
import { survivalSteps } from "./survival-steps.ts";
import { independentUnits } from "./units.ts";

/**
 * Share still without the event after each tick, with the variance taken over clusters of rows.
 *
 * Estimates as `kaplanMeier`. The variance is the sum over clusters of squared influence (infinitesimal jackknife), with no
 * small-sample factor; below 30 clusters in a group limits use t on its clusters − 1, and a group of one cluster has none.
 * Without clusters each case is its own: equal to Greenwood without weights and delayed entry, and the variance for
 * sampling weights, whose limits stay the same when all weights are multiplied by one number.
 *
 * @example
 * const rows = {
 *   exit: [1, 2, 3, 4, 5, 6, 7, 8],
 *   event: [1, 0, 1, 1, 0, 1, 0, 1],
 *   group: { codes: [0, 0, 0, 0, 1, 1, 1, 1], labels: ["a", "b"] },
 *   cluster: { codes: [0, 1, 2, 3, 0, 1, 2, 3], word: "surgeon" },
 *   timeUnit: TIME_UNITS.year,
 * };
 * clusteredSurvival(rows, { years: [3] }).groups[0]?.survival; // [0.75, 0.75, 0.375, 0]
 */
export function clusteredSurvival(
  columns: ObservationColumns,
  options: Omit<CurveOptions, "from"> = {},
): SurvivalCurve {
  const observations = checkObservations(columns);
  const { level = 0.95, scale = "log-minus-log", event = observations.causes, years = [] } = options;
  requireCurveOptions("clusteredSurvival", observations.causes, { level, scale, event, years });
  const roles = netRoles(observations.causes, eventIndexes("clusteredSurvival", observations.causes, event));
  const counts = countsByTime(observations);
  const units = independentUnits(observations, true);
  const cells = rowsByCell(observations);
  return {
    kind: "survivalCurve",
    settings: { level, scale, event: [...event], clusteredBy: units.word, from: null },
    timeUnit: counts.timeUnit,
    groups: counts.groups.map((_, group) => {
      const steps = riskSteps(counts, group);
      const path = pathSteps(steps, roles);
      const order = groupOrder(observations, cells, group, units, steps.time);
      // Net incidence is one minus survival, so they share their influence.
      const variance = clusteredVariance(roles, path, order);
      const { survival } = productLimit(path.atRisk, path.wanted);
      const quantile = referenceFor(clustersIn(observations, units, group), level)?.quantile;
      return survivalSteps(steps, {
        roles,
        path: { survival, standardError: variance.map(Math.sqrt) },
        limits: { level, scale, quantile },
        years,
        timeUnit: counts.timeUnit,
      });
    }),
  };
}
