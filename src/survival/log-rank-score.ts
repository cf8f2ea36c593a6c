import type { CountsByTime, CountsCell } from "./counts.ts";
import { eventsInRole } from "./event-roles.ts";
import { type LogRankWeighting, tickWeight } from "./log-rank-weighting.ts";

/** What every test of the log-rank family is made of, added over strata. Arrays run over groups. */
export interface LogRankScore {
  /** Events seen and events expected under one common hazard, not weighted by time. */
  readonly observed: number[];
  readonly expected: number[];
  /** Weighted sum of observed minus expected, and its covariance. */
  readonly score: number[];
  readonly covariance: number[][];
}

/** One group's counts in one stratum, with a place in time. */
interface Walker {
  readonly group: number;
  readonly time: Int32Array;
  readonly atRisk: Float64Array;
  readonly events: Float64Array;
  next: number;
}

/**
 * Score and hypergeometric covariance of the groups' events, given the margins at each event tick.
 *
 * With n at risk and d events at a tick, n_g and d_g those of a group, w the weight:
 *
 *   U_g = Σ w (d_g − n_g d / n),   V_gh = Σ w² d (n − d) / (n − 1) (n_g / n) (1[g = h] − n_h / n)
 */
export function logRankScore(
  counts: CountsByTime,
  wanted: readonly boolean[],
  weighting: LogRankWeighting = "equal",
): LogRankScore {
  const zeros = () => counts.groups.map(() => 0);
  const sums = { observed: zeros(), expected: zeros(), score: zeros(), covariance: counts.groups.map(zeros) };
  counts.strata.forEach((_, stratum) => {
    const cells = counts.cells.filter((cell) => cell.stratum === stratum);
    addStratum(
      sums,
      cells.map((cell) => walker(cell, wanted)),
      weighting,
    );
  });
  return sums;
}

function walker(cell: CountsCell, wanted: readonly boolean[]): Walker {
  const { atRisk, events } = cell.weighted ?? cell;
  return {
    group: cell.group,
    time: cell.time,
    atRisk,
    events: eventsInRole({ events, time: cell.time }, wanted),
    next: 0,
  };
}

// Walks all groups' steps together in order of time; one pass over the steps.
function addStratum(sums: LogRankScore, walkers: readonly Walker[], weighting: LogRankWeighting): void {
  const weightOf = tickWeight(weighting);
  for (;;) {
    const tick = walkers.reduce((least, { time, next }) => Math.min(least, time[next] ?? Infinity), Infinity);
    if (tick === Infinity) return;
    let [atRisk, events] = [0, 0];
    for (const { time, next, atRisk: own, events: ownEvents } of walkers) {
      atRisk += own[next] ?? 0;
      if (time[next] === tick) events += ownEvents[next] ?? 0;
    }
    if (events > 0 && atRisk > 0) addTick(sums, walkers, tick, atRisk, events, weightOf(atRisk, events));
    for (const one of walkers) if (one.time[one.next] === tick) one.next += 1;
  }
}

function addTick(
  { observed, expected, score, covariance }: LogRankScore,
  walkers: readonly Walker[],
  tick: number,
  atRisk: number,
  events: number,
  weight: number,
): void {
  // A risk set of one, or one in which all have the event, has no variance.
  const spread = atRisk > 1 ? (weight * weight * events * (atRisk - events)) / (atRisk - 1) : 0;
  for (const { group, time, next, atRisk: own, events: ownEvents } of walkers) {
    // Between its own steps a group has as many at risk as at its next one.
    const share = (own[next] ?? 0) / atRisk;
    if (share === 0) continue;
    const seen = time[next] === tick ? (ownEvents[next] ?? 0) : 0;
    observed[group]! += seen;
    expected[group]! += share * events;
    score[group]! += weight * (seen - share * events);
    if (spread === 0) continue;
    const row = covariance[group]!;
    for (const other of walkers)
      row[other.group]! -= (spread * share * (other.atRisk[other.next] ?? 0)) / atRisk;
    row[group]! += spread * share;
  }
}
