import { logGamma } from "../numeric/log-gamma.ts";
import type { LikelihoodPoint } from "../numeric/newton.ts";
import type { CoxRows } from "./cox-rows.ts";
import { relativeHazards } from "./cox-sums.ts";

/** Multiplications that one look at the discrete likelihood may cost. */
export const MOST_EXACT_WORK = 100_000_000;

/** Multiplications for one look at the discrete likelihood: at risk × events × derivatives, over the ticks with events. */
export function exactWork({ cells }: CoxRows, columns: number): number {
  let work = 0;
  forEachSet(cells, (cell, from, to) => {
    work += (to - from) * cells.events[cell]! * (1 + columns + (columns * (columns + 1)) / 2);
  });
  return work;
}

/**
 * The discrete likelihood: on each tick, given how many had the event, the chance that it was just these.
 *
 * The sum over all sets of d out of n at risk is built up row by row (Gail, Lubin and Rubinstein 1981), here as the mean
 * over the sets, so that neither it nor its derivatives run over where sets are many.
 */
export function coxExactLikelihood(
  rows: CoxRows,
  values: readonly Float64Array[],
  beta: ArrayLike<number>,
  offset?: Float64Array,
): LikelihoodPoint {
  const relative = relativeHazards({ count: rows.count }, values, beta, offset);
  const size = values.length;
  const score = new Float64Array(size);
  const information = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  let logLikelihood = 0;
  for (const i of rows.eventRows) {
    logLikelihood += Math.log(relative[i]!);
    values.forEach((column, j) => {
      score[j]! += column[i]!;
    });
  }
  forEachSet(rows.cells, (cell, from, to) => {
    const atRisk = membersAt(rows, cell, from, to);
    const sets = meanOverSets(relative, values, atRisk, rows.cells.events[cell]!);
    logLikelihood -= sets.logSum;
    for (let j = 0; j < size; j += 1) {
      score[j]! -= sets.slope[j]!;
      for (let k = 0; k < size; k += 1) {
        information[j]![k]! += sets.bend[j * size + k]! - sets.slope[j]! * sets.slope[k]!;
      }
    }
  });
  return { logLikelihood, score, information };
}

/** Calls back with each cell that has events and the places among which its risk set lies. */
function forEachSet(cells: CoxRows["cells"], visit: (cell: number, from: number, to: number) => void): void {
  for (let stratum = 0; stratum < cells.begins.length; stratum += 1) {
    const end = cells.begins[stratum + 1] ?? cells.count;
    for (let cell = cells.begins[stratum]! + 1; cell < end; cell += 1) {
      visit(cell, cells.leaving[cell]!, cells.leaving[end]!);
    }
  }
}

function membersAt({ entryCell }: CoxRows, cell: number, from: number, to: number): number[] {
  const members: number[] = [];
  for (let i = from; i < to; i += 1) if (entryCell === undefined || entryCell[i]! < cell) members.push(i);
  return members;
}

/** log of the sum over sets of `events` rows, and first and second derivatives over that sum. */
function meanOverSets(
  relative: Float64Array,
  values: readonly Float64Array[],
  atRisk: readonly number[],
  events: number,
) {
  const size = values.length;
  // By number of rows taken: mean over sets, its slope (j), its bend (j, k).
  const width = 1 + size + size * size;
  const sets = new Float64Array((events + 1) * width);
  sets[0] = 1;
  const level = atRisk.reduce((sum, i) => sum + relative[i]!, 0) / atRisk.length;
  const x = new Float64Array(size);
  atRisk.forEach((i, at) => {
    for (let j = 0; j < size; j += 1) x[j] = values[j]![i]!;
    const seen = at + 1;
    for (let taken = Math.min(seen, events); taken > 0; taken -= 1) {
      const share = taken / seen;
      addRow(sets, taken * width, (taken - 1) * width, 1 - share, (share * relative[i]!) / level, x);
    }
  });
  const own = sets.subarray(events * width);
  const mean = own[0]!;
  return {
    logSum:
      Math.log(mean) +
      events * Math.log(level) +
      logGamma(atRisk.length + 1) -
      logGamma(events + 1) -
      logGamma(atRisk.length - events + 1),
    slope: own.subarray(1, 1 + size).map((value) => value / mean),
    bend: own.subarray(1 + size).map((value) => value / mean),
  };
}

/** target ← keep · target + take · (source, with the row added to every set). */
function addRow(
  sets: Float64Array,
  target: number,
  source: number,
  keep: number,
  take: number,
  x: Float64Array,
): void {
  const size = x.length;
  const sum = sets[source]!;
  sets[target] = keep * sets[target]! + take * sum;
  for (let j = 0; j < size; j += 1) {
    const slope = sets[source + 1 + j]!;
    const at = target + 1 + j;
    sets[at] = keep * sets[at]! + take * (slope + sum * x[j]!);
    for (let k = 0; k < size; k += 1) {
      const both = size + j * size + k + 1;
      const bend = sets[source + both]! + slope * x[k]! + sets[source + 1 + k]! * x[j]! + sum * x[j]! * x[k]!;
      sets[target + both] = keep * sets[target + both]! + take * bend;
    }
  }
}
