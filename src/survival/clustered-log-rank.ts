import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { fUpper } from "../numeric/f-distribution.ts";
import { generalisedForm } from "../numeric/generalised-form.ts";
import { checkObservations } from "./check-observations.ts";
import type { CountsByTime } from "./counts.ts";
import { countsByTime } from "./counts-by-time.ts";
import { causeIndex, eventsInRole, netRoles } from "./event-roles.ts";
import { FEW_CLUSTERS } from "./few-clusters.ts";
import type { ObservationColumns, Observations } from "./observations.ts";
import type { LogRankTest } from "./results.ts";
import { atRiskAt, stepsUpTo } from "./risk-steps.ts";
import { independentUnits, unitsSeen } from "./units.ts";

export interface ClusteredLogRankOptions {
  /** Causes counted as events; the others end follow-up. Default all. */
  readonly event?: readonly string[];
}

/** Pooled numbers of one stratum at its event ticks. */
interface PooledSteps {
  readonly time: Int32Array;
  readonly atRisk: Float64Array;
  readonly events: Float64Array;
  /** At risk by group. */
  readonly byGroup: readonly Float64Array[];
}

/**
 * Whether groups differ in the hazard of an event, where rows of one cluster (surgeon, patient) are not independent.
 *
 * The log-rank score, observed minus expected by group within strata, over its variance between clusters: the sum over
 * clusters of squared (and crossed) sums of each row's share of the score,
 *
 *   ψ = Σ over ticks of (Z − n_g / n) (dN − Y d / n)
 *
 * with Z = 1 for the row's own group. A cluster may hold rows of several groups and strata. Below 30 clusters the
 * statistic is referred to F on (q, clusters − q), for two groups the t on clusters − 1, instead of chi-square on q. A
 * group never at risk at an event takes no part.
 *
 * Source: Lee, Wei and Amato 1992; Lin and Wei 1989.
 */
export function clusteredLogRank(
  columns: ObservationColumns,
  options: ClusteredLogRankOptions = {},
): Answer<LogRankTest> {
  const observations = checkObservations(columns);
  if (observations.cluster === undefined) {
    throw new ArgumentError(
      "clusteredLogRank: the observations name no cluster; give one, or use logRankTest",
    );
  }
  const { event = observations.causes } = options;
  const roles = netRoles(
    observations.causes,
    event.map((name) => causeIndex("clusteredLogRank", observations.causes, name)),
  );
  const counts = countsByTime(observations);
  const strata = counts.strata.map((_, stratum) => pooledSteps(counts, stratum, roles.wanted));
  const groups = groupTotals(counts, strata, roles.wanted);
  const compared = groups.flatMap(({ expected }, group) => (expected > 0 ? [group] : []));
  if (groups.every(({ observed }) => observed === 0)) {
    return notComputed("no-events", "no event was seen in any group");
  }
  if (compared.length < 2) {
    return notComputed("nothing-to-compare", "fewer than two groups were under observation at an event");
  }
  const clusters = unitsSeen(observations, independentUnits(observations, true), compared);
  if (clusters < compared.length) {
    return notComputed("too-few-clusters", `${clusters} clusters cannot compare ${compared.length} groups`);
  }
  const { value: chiSquare, rank } = generalisedForm(
    groups.map(({ observed, expected }) => observed - expected),
    covariance(scoreShares(observations, strata, roles.wanted), groups.length),
  );
  if (rank === 0) {
    return notComputed("no-spread", "the clusters leave no independent variation between the groups");
  }
  const few = clusters < FEW_CLUSTERS;
  const freedom = clusters - rank;
  return computed({
    kind: "logRankTest",
    settings: {
      event: [...event],
      stratified: counts.strata.length > 1,
      clusteredBy: observations.cluster.word,
      clusters,
      degreesOfFreedomOfT: few ? freedom : null,
    },
    groups,
    chiSquare,
    degreesOfFreedom: rank,
    p: few
      ? fUpper((chiSquare * freedom) / (rank * (clusters - 1)), rank, freedom)
      : chiSquareUpper(chiSquare, rank),
  });
}

function pooledSteps(counts: CountsByTime, stratum: number, wanted: readonly boolean[]): PooledSteps {
  const cells = counts.cells.filter((cell) => cell.stratum === stratum);
  const eventTicks = cells.flatMap((cell) => {
    const events = eventsInRole({ time: cell.time, events: (cell.weighted ?? cell).events }, wanted);
    return [...cell.time].filter((_, step) => (events[step] ?? 0) > 0);
  });
  const time = Int32Array.from(new Set(eventTicks)).sort();
  const byGroup = counts.groups.map((_, group) => {
    const own = cells.filter((cell) => cell.group === group);
    return Float64Array.from(time, (tick) =>
      sumOver(own, (cell) => atRiskAt(cell.time, (cell.weighted ?? cell).atRisk, tick)),
    );
  });
  const events = new Float64Array(time.length);
  for (const cell of cells) {
    eventsInRole({ time: cell.time, events: (cell.weighted ?? cell).events }, wanted).forEach(
      (count, step) => {
        if (count > 0) events[stepsUpTo(time, cell.time[step] ?? 0) - 1]! += count;
      },
    );
  }
  const atRisk = Float64Array.from(time, (_, step) => sumOver(byGroup, (group) => group[step] ?? 0));
  return { time, atRisk, events, byGroup };
}

function groupTotals(counts: CountsByTime, strata: readonly PooledSteps[], wanted: readonly boolean[]) {
  return counts.groups.map((group, index) => {
    const cells = counts.cells.filter((cell) => cell.group === index);
    const expected = sumOver(strata, ({ time, atRisk, events, byGroup }) =>
      time.reduce(
        (sum, _, step) => sum + share(byGroup[index]?.[step], atRisk[step]) * (events[step] ?? 0),
        0,
      ),
    );
    const observed = sumOver(cells, (cell) =>
      eventsInRole({ time: cell.time, events: (cell.weighted ?? cell).events }, wanted).reduce(
        (a, b) => a + b,
        0,
      ),
    );
    return { group, cases: sumOver(cells, (cell) => cell.cases), observed, expected };
  });
}

/** Each cluster's share of the score, groups within clusters. One pass over the rows. */
function scoreShares(observations: Observations, strata: readonly PooledSteps[], wanted: readonly boolean[]) {
  const groups = observations.group.labels.length;
  const units = independentUnits(observations, true);
  const sums = new Float64Array(units.count * groups);
  const gathered = strata.map(gatheredHazards);
  for (let row = 0; row < observations.rows; row++) {
    const stratum = observations.stratum.codes[row] ?? 0;
    const [steps, hazards] = [strata[stratum], gathered[stratum]];
    if (steps === undefined || hazards === undefined) continue;
    const exit = observations.exit[row] ?? 0;
    const from = observations.entry === undefined ? 0 : stepsUpTo(steps.time, observations.entry[row] ?? 0);
    const to = stepsUpTo(steps.time, exit);
    const own = observations.group.codes[row] ?? 0;
    const hadEvent = wanted[(observations.event[row] ?? 0) - 1] === true;
    const factor = units.factor(row);
    const place = (units.codes?.[row] ?? row) * groups;
    for (let group = 0; group < groups; group++) {
      const mine = group === own ? 1 : 0;
      const expected = mine * between(hazards.all, from, to) - between(hazards.byGroup[group], from, to);
      const atEvent = hadEvent ? mine - share(steps.byGroup[group]?.[to - 1], steps.atRisk[to - 1]) : 0;
      sums[place + group]! += factor * (atEvent - expected);
    }
  }
  return sums;
}

/** Running sums of d / n and of n_g d / n². */
function gatheredHazards({ time, atRisk, events, byGroup }: PooledSteps) {
  const running = (term: (step: number) => number) => {
    const sums = new Float64Array(time.length + 1);
    time.forEach((_, step) => {
      sums[step + 1] = (sums[step] ?? 0) + term(step);
    });
    return sums;
  };
  const hazard = (step: number) => share(events[step], atRisk[step]);
  return {
    all: running(hazard),
    byGroup: byGroup.map((group) => running((step) => hazard(step) * share(group[step], atRisk[step]))),
  };
}

/** Sum over clusters of products of their shares. */
function covariance(shares: Float64Array, groups: number): number[][] {
  const sums = Array.from({ length: groups }, () => new Array<number>(groups).fill(0));
  for (let at = 0; at < shares.length; at += groups) {
    sums.forEach((line, a) => {
      line.forEach((_, b) => {
        line[b]! += (shares[at + a] ?? 0) * (shares[at + b] ?? 0);
      });
    });
  }
  return sums;
}

function share(part: number | undefined, whole: number | undefined): number {
  return part === undefined || whole === undefined || !(whole > 0) ? 0 : part / whole;
}

function between(sums: Float64Array | undefined, from: number, to: number): number {
  return (sums?.[to] ?? 0) - (sums?.[from] ?? 0);
}

function sumOver<Item>(items: readonly Item[], value: (item: Item) => number): number {
  return items.reduce((sum, item) => sum + value(item), 0);
}
