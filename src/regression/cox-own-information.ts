import type { CoxPoint } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";

/** The rows' own parts of the information, which add up to it. */
export interface OwnInformation {
  /** Adds the part of one row, times a factor, to the lower triangle of `sum`. */
  readonly add: (sum: readonly Float64Array[], i: number, factor: number) => void;
}

/**
 * Each row's own part of the information:
 *
 *   relative · Σ (x − mean)(x − mean)ᵀ · hazard over the cells it was at risk in
 *
 * with the mean over those at risk, under "efron" over the turns of a tick, in which a row with the event takes part by the
 * share of the events that is still there. The square is multiplied out, so that a row needs differences of running sums only.
 */
export function ownInformation(
  rows: CoxRows,
  values: readonly Float64Array[],
  point: CoxPoint,
): OwnInformation {
  const { exitCell, entryCell } = rows;
  const { relative } = point.sums;
  const { passed, spared, width } = hazardMoments(rows, point);
  const isEvent = new Uint8Array(rows.count);
  for (const i of rows.eventRows) isEvent[i] = 1;
  const size = values.length;
  const moments = new Float64Array(width);
  const x = new Float64Array(size);
  return {
    // Indexes of rows, cells and pairs are in range by construction.
    add: (sum, i, factor) => {
      const exit = exitCell[i]! * width;
      for (let at = 0; at < width; at += 1) moments[at] = passed[exit + at]!;
      if (entryCell !== undefined) {
        const entry = entryCell[i]! * width;
        for (let at = 0; at < width; at += 1) moments[at]! -= passed[entry + at]!;
      }
      if (isEvent[i] === 1) for (let at = 0; at < width; at += 1) moments[at]! -= spared[exit + at]!;
      const own = factor * relative[i]!;
      const hazard = moments[0]!;
      for (let j = 0; j < size; j += 1) {
        const line = sum[j]!;
        const first = pair(j + 1, 0);
        const pull = moments[first]!;
        const value = values[j]![i]!;
        x[j] = value;
        const slope = value * hazard - pull;
        for (let k = 0; k <= j; k += 1) {
          line[k]! += own * (x[k]! * slope - value * moments[pair(k + 1, 0)]! + moments[first + k + 1]!);
        }
      }
    },
  };
}

/** Place of a pair a ≥ b among all pairs. */
function pair(a: number, b: number): number {
  return (a * (a + 1)) / 2 + b;
}

/**
 * Σ hazard · m mᵀ with m = (1, means at risk), cell by cell and in each by pair: running sums over the cells of a stratum, and
 * what an event of a cell is spared.
 */
function hazardMoments({ cells }: CoxRows, { sums, terms }: CoxPoint) {
  const size = sums.atRiskBy.length + 1;
  const width = pair(size, 0);
  const passed = new Float64Array(cells.count * width);
  const spared = new Float64Array(cells.count * width);
  const mean = new Float64Array(size).fill(1);
  for (let cell = 0; cell < cells.count; cell += 1) {
    // A stratum begins in a cell without a tick.
    if (cells.tick[cell]! < 0) continue;
    const here = cell * width;
    passed.copyWithin(here, here - width, here);
    const events = cells.events[cell]!;
    const turns = terms.rule === "efron" ? events : 1;
    const weight = cells.eventWeight[cell]! / turns;
    for (let turn = 0; turn < turns; turn += 1) {
      const share = turn / turns;
      const left = sums.atRisk[cell]! - share * sums.failing[cell]!;
      for (let a = 1; a < size; a += 1) {
        mean[a] = (sums.atRiskBy[a - 1]![cell]! - share * sums.failingBy[a - 1]![cell]!) / left;
      }
      for (let a = 0; a < size; a += 1) {
        for (let b = 0; b <= a; b += 1) {
          const moment = (weight / left) * mean[a]! * mean[b]!;
          passed[here + pair(a, b)]! += moment;
          spared[here + pair(a, b)]! += share * moment;
        }
      }
    }
  }
  return { passed, spared, width };
}
