import { yearsOfTicks } from "../base/time-unit.ts";
import { checkObservations } from "./check-observations.ts";
import { clustersIn } from "./clustered-incidence.ts";
import { countsByTime } from "./counts-by-time.ts";
import { eventIndexes, eventsInRole, netRoles } from "./event-roles.ts";
import { referenceFor, requireSharesOrNone, type SharesOrNone } from "./few-clusters.ts";
import { leftOver } from "./incidence-path.ts";
import { addInfluence, type Influence } from "./influence.ts";
import type { ObservationColumns } from "./observations.ts";
import { overTheRest } from "./over-the-rest.ts";
import { areaUnder, type RestrictedArea } from "./restricted-area.ts";
import { compareMeans, meanOfGroup } from "./restricted-contrasts.ts";
import { type RestrictedMean, type RestrictedMeanOptions, requireHorizon } from "./restricted-mean.ts";
import { riskSteps } from "./risk-steps.ts";
import { type SharedOut, sharesFreedom } from "./shares-freedom.ts";
import { independentUnits, unitShares, unitsSeen } from "./units.ts";

export interface ClusteredRestrictedMeanOptions extends RestrictedMeanOptions {
  /** How the variance over clusters is widened when clusters are few. Default "none". */
  readonly smallSample?: SharesOrNone;
}

/**
 * How many of the first years pass without the event, on average, with the variance taken over clusters of rows.
 *
 * Estimates and refusals as `restrictedMean`. The variance is the sum over clusters of squared influence; with
 * `smallSample` "shares" the influence of each is first divided by one minus its share of the group's rows, or of their
 * weight. In comparisons a cluster's influence on both groups is put together before squaring. Below 30
 * clusters limits and p use t on clusters − 1 ("shares": on `sharesFreedom` always, each
 * contrast on its own), and a single cluster gives no answer. Without clusters each case is its own:
 * equal to `restrictedMean` without weights and delayed entry, and the variance for sampling weights.
 *
 * @example
 * const rows = {
 *   exit: [1, 2, 3, 4, 5, 6, 7, 8],
 *   event: [1, 0, 1, 1, 0, 1, 0, 1],
 *   group: { codes: [0, 0, 0, 0, 1, 1, 1, 1], labels: ["a", "b"] },
 *   cluster: { codes: [0, 1, 2, 3, 0, 1, 2, 3], word: "surgeon" },
 *   timeUnit: TIME_UNITS.year,
 * };
 * clusteredRestrictedMean(rows, { toYear: 4 }).groups[0]; // "a": 2.875 years of 4, 0.957 to 4; 4 clusters
 */
export function clusteredRestrictedMean(
  columns: ObservationColumns,
  options: ClusteredRestrictedMeanOptions,
): RestrictedMean {
  const observations = checkObservations(columns);
  const { causes, timeUnit, group } = observations;
  const { toYear, event = causes, level = 0.95, smallSample = "none" } = options;
  requireSharesOrNone("clusteredRestrictedMean", smallSample);
  const toTick = requireHorizon("clusteredRestrictedMean", toYear, level, timeUnit);
  const roles = netRoles(causes, eventIndexes("clusteredRestrictedMean", causes, event));
  const counts = countsByTime(observations);
  const units = independentUnits(observations, true);
  const means = group.labels.map((_, place) => {
    const steps = riskSteps(counts, place);
    const events = eventsInRole(steps, roles.wanted);
    const area = areaUnder(steps.time, steps.atRisk, events, toTick);
    const own = new Float64Array(units.count);
    addInfluence(own, observations, place, roles, steps, meanInfluence(area, steps.atRisk, events), units);
    const shares =
      units.word !== null && smallSample === "shares" ? unitShares(observations, units, place) : undefined;
    const shared = shares && { shares, variance: area.variance };
    const sums = shares === undefined ? own : overTheRest(own, shares);
    const clusters = clustersIn(observations, units, place);
    const spread = { reference: referenceFor(clusters, level, shared && sharesFreedom([shared])), clusters };
    const mean = meanOfGroup(steps, area, product(sums, sums), { toTick, timeUnit, ...spread });
    return { mean, sums, shared };
  });
  const [first] = means;
  return {
    kind: "restrictedMean",
    settings: {
      level,
      event: [...event],
      toYear,
      toTick,
      clusteredBy: units.word,
      ...(units.word !== null && { smallSample }),
    },
    groups: means.map(({ mean }) => mean),
    comparisons: means.slice(1).map((other, at) =>
      compareMeans(first?.mean, other.mean, () => {
        const clusters = units.word === null ? null : unitsSeen(observations, units, [0, at + 1]);
        const covariance = product(first?.sums ?? [], other.sums);
        const inYears = yearsOfTicks(yearsOfTicks(covariance, timeUnit), timeUnit);
        // Each contrast weighs the two groups in its own way, and so leaves degrees of freedom of its own.
        const freedomOf = (alpha: number, beta: number) =>
          first?.shared && other.shared
            ? sharesFreedom([weighed(first.shared, alpha), weighed(other.shared, beta)])
            : undefined;
        return {
          covariance: inYears,
          clusters,
          referenceOf: (alpha, beta) => referenceFor(clusters, level, freedomOf(alpha, beta)),
        };
      }),
    ),
  };
}

function weighed({ shares, variance }: SharedOut, factor: number): SharedOut {
  return { shares, variance: factor * factor * variance };
}

/**
 * Derivative of the area under the curve with respect to one row's weight. With A(u) the area from u to the horizon,
 *
 *   −Σ over u of A(u) (dN − Y d / n) / (n − d)
 */
function meanInfluence(
  { toCome }: RestrictedArea,
  atRisk: ArrayLike<number>,
  events: ArrayLike<number>,
): Influence {
  const steps = toCome.length;
  const influence = {
    steps,
    staying: new Float64Array(steps + 1),
    wanted: new Float64Array(steps),
    competing: new Float64Array(steps),
  };
  for (let step = 0; step < steps; step++) {
    const [n, d] = [atRisk[step] ?? 0, events[step] ?? 0];
    const left = leftOver(n, d);
    // Once everyone at risk has had the event nobody's weight moves the curve.
    const each = left > 0 ? (toCome[step] ?? 0) / left : 0;
    influence.wanted[step] = -each;
    influence.staying[step + 1] = (influence.staying[step] ?? 0) + (n > 0 ? (each * d) / n : 0);
  }
  return influence;
}

function product(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let at = 0; at < a.length; at++) sum += (a[at] ?? 0) * (b[at] ?? 0);
  return sum;
}
