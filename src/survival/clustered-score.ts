import type { CountsByTime } from "./counts.ts";
import { eventsInRole } from "./event-roles.ts";
import { type LogRankWeighting, tickWeight } from "./log-rank-weighting.ts";
import type { Observations } from "./observations.ts";
import { atRiskAt, stepsUpTo } from "./risk-steps.ts";
import { independentUnits } from "./units.ts";

/** Log-rank score by group, and its covariance between clusters. */
export interface ClusteredScore {
  readonly groups: readonly {
    readonly group: string;
    readonly cases: number;
    readonly observed: number;
    readonly expected: number;
  }[];
  /** Weighted sum of observed minus expected. */
  readonly score: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

/** Pooled numbers of one stratum at its event ticks. */
interface PooledSteps {
  readonly time: Int32Array;
  readonly atRisk: Float64Array;
  readonly events: Float64Array;
  /** At risk by group. */
  readonly byGroup: readonly Float64Array[];
  /** How much each event tick counts. */
  readonly weight: Float64Array;
}

/**
 * Observed and expected events of each group, and the sum over clusters of products of their shares of the score.
 *
 * A weighting that depends on the data is taken as given: what a row does to it is of smaller order.
 */
export function clusteredScore(
  observations: Observations,
  counts: CountsByTime,
  wanted: readonly boolean[],
  weighting: LogRankWeighting = "equal",
): ClusteredScore {
  const strata = counts.strata.map((_, stratum) => pooledSteps(counts, stratum, wanted, weighting));
  const shares = scoreShares(observations, strata, wanted);
  return {
    groups: groupTotals(counts, strata, wanted),
    score: counts.groups.map((_, group) => weightedExcess(counts, strata, wanted, group)),
    covariance: covariance(shares, counts.groups.length),
  };
}

function pooledSteps(
  counts: CountsByTime,
  stratum: number,
  wanted: readonly boolean[],
  weighting: LogRankWeighting,
): PooledSteps {
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
  const weightOf = tickWeight(weighting);
  const weight = Float64Array.from(time, (_, step) => weightOf(atRisk[step] ?? 0, events[step] ?? 0));
  return { time, atRisk, events, byGroup, weight };
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

function weightedExcess(
  counts: CountsByTime,
  strata: readonly PooledSteps[],
  wanted: readonly boolean[],
  group: number,
): number {
  return (
    sumOver(counts.cells, (cell) => {
      const { time, weight } = strata[cell.stratum]!; // One set of steps a stratum was made.
      if (cell.group !== group) return 0;
      const own = eventsInRole({ time: cell.time, events: (cell.weighted ?? cell).events }, wanted);
      return own.reduce((sum, seen, step) => {
        return seen > 0 ? sum + seen * (weight[stepsUpTo(time, cell.time[step] ?? 0) - 1] ?? 0) : sum;
      }, 0);
    }) -
    sumOver(strata, ({ time, atRisk, events, byGroup, weight }) =>
      time.reduce(
        (sum, _, step) =>
          sum + (weight[step] ?? 0) * share(byGroup[group]?.[step], atRisk[step]) * (events[step] ?? 0),
        0,
      ),
    )
  );
}

// Clusters that favour no group leave rounding errors, not 0: far below all that their rows put in.
const LEAST_SHARE = 1e-12;

/** Each cluster's share of the score, groups within clusters. One pass over the rows. */
function scoreShares(observations: Observations, strata: readonly PooledSteps[], wanted: readonly boolean[]) {
  const groups = observations.group.labels.length;
  const units = independentUnits(observations, true);
  const sums = new Float64Array(units.count * groups);
  const putIn = new Float64Array(groups);
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
      const atEvent = hadEvent
        ? (steps.weight[to - 1] ?? 0) * (mine - share(steps.byGroup[group]?.[to - 1], steps.atRisk[to - 1]))
        : 0;
      sums[place + group]! += factor * (atEvent - expected);
      const gatheredSoFar = mine * (hazards.all[to] ?? 0) + (hazards.byGroup[group]?.[to] ?? 0);
      putIn[group]! += factor * (Math.abs(atEvent) + gatheredSoFar);
    }
  }
  return sums.map((sum, at) => (Math.abs(sum) > LEAST_SHARE * (putIn[at % groups] ?? 0) ? sum : 0));
}

/** Running sums of w d / n and of w n_g d / n². */
function gatheredHazards({ time, atRisk, events, byGroup, weight }: PooledSteps) {
  const running = (term: (step: number) => number) => {
    const sums = new Float64Array(time.length + 1);
    time.forEach((_, step) => {
      sums[step + 1] = (sums[step] ?? 0) + term(step);
    });
    return sums;
  };
  const hazard = (step: number) => (weight[step] ?? 0) * share(events[step], atRisk[step]);
  return {
    all: running(hazard),
    byGroup: byGroup.map((group) => running((step) => hazard(step) * share(group[step], atRisk[step]))),
  };
}

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
