import { runningSums } from "./cox-cells.ts";
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
  const { passed, spared } = hazardMoments(rows, point);
  const isEvent = new Uint8Array(rows.count);
  for (const i of rows.eventRows) isEvent[i] = 1;
  const size = values.length + 1;
  const moments = new Float64Array(passed.length);
  return {
    // Indexes of rows and cells are in range by construction.
    add: (sum, i, factor) => {
      const [exit, entry] = [exitCell[i]!, entryCell?.[i]];
      for (let at = 0; at < moments.length; at += 1) {
        moments[at] = passed[at]![exit]! - (entry === undefined ? 0 : passed[at]![entry]!);
        if (isEvent[i] === 1) moments[at]! -= spared[at]![exit]!;
      }
      const own = factor * relative[i]!;
      for (let a = 1; a < size; a += 1) {
        const x = values[a - 1]![i]!;
        for (let b = 1; b <= a; b += 1) {
          const y = values[b - 1]![i]!;
          sum[a - 1]![b - 1]! +=
            own *
            (x * y * moments[0]! -
              x * moments[pair(b, 0)]! -
              y * moments[pair(a, 0)]! +
              moments[pair(a, b)]!);
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
 * Σ hazard · m mᵀ with m = (1, means at risk), by pair: running sums over the cells, and what an event of a cell is spared.
 */
function hazardMoments({ cells }: CoxRows, { sums, terms }: CoxPoint) {
  const size = sums.atRiskBy.length + 1;
  const series = () => Array.from({ length: pair(size, 0) }, () => new Float64Array(cells.count));
  const [step, spared] = [series(), series()];
  const mean = new Float64Array(size);
  for (let cell = 0; cell < cells.count; cell += 1) {
    const events = cells.events[cell]!;
    if (events === 0) continue;
    const turns = terms.rule === "efron" ? events : 1;
    const weight = cells.eventWeight[cell]! / turns;
    for (let turn = 0; turn < turns; turn += 1) {
      const share = turn / turns;
      const left = sums.atRisk[cell]! - share * sums.failing[cell]!;
      mean[0] = 1;
      for (let a = 1; a < size; a += 1) {
        mean[a] = (sums.atRiskBy[a - 1]![cell]! - share * sums.failingBy[a - 1]![cell]!) / left;
      }
      for (let a = 0; a < size; a += 1) {
        for (let b = 0; b <= a; b += 1) {
          const moment = (weight / left) * mean[a]! * mean[b]!;
          step[pair(a, b)]![cell]! += moment;
          spared[pair(a, b)]![cell]! += share * moment;
        }
      }
    }
  }
  return { passed: step.map((own) => runningSums(cells, own)), spared };
}
