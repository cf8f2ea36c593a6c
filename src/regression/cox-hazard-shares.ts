import { stepsUpTo } from "../survival/risk-steps.ts";
import { runningSums } from "./cox-cells.ts";
import { meanTimesHazard } from "./cox-influence.ts";
import type { CoxRows } from "./cox-rows.ts";
import type { CoxState } from "./cox-state.ts";

/** The baseline hazard at one tick, with all that its variance needs. One number, or one array over strata. */
export interface HazardAt {
  /** Last cell at or before the tick, by stratum. */
  readonly cell: Int32Array;
  /** Cumulative baseline hazard at the centre of the columns, by stratum. */
  readonly hazard: Float64Array;
  /** By column, then stratum: Σ mean · hazard. */
  readonly pull: readonly Float64Array[];
  /** Σ of squared steps, by stratum: the model's variance at the centre, coefficients known. */
  readonly squares: Float64Array;
}

/** Cumulative baseline hazards at a tick. */
export function hazardAt({ rows, values, point }: CoxState, tick: number): HazardAt {
  const { cells } = rows;
  const cell = Int32Array.from(cells.begins, (begin, stratum) => {
    const end = cells.begins[stratum + 1] ?? cells.count;
    return begin + stepsUpTo(cells.tick.subarray(begin + 1, end), tick);
  });
  const atCell = (sums: Float64Array) => Float64Array.from(cell, (own) => sums[own]!);
  return {
    cell,
    hazard: atCell(point.terms.cumulative),
    pull: values.map((_, j) => atCell(runningSums(cells, meanTimesHazard(point.sums, point.terms, j)))),
    squares: atCell(runningSums(cells, point.terms.square)),
  };
}

/**
 * Each row's share of its stratum's cumulative baseline hazard at a tick, the coefficients held, times its weight:
 * (its event) / at risk less relative · Σ hazard / at risk over the cells it was at risk in.
 */
export function hazardShares(rows: CoxRows, { point }: CoxState, { cell: upTo }: HazardAt): Float64Array {
  const { cells, exitCell, entryCell, eventRows, weight, observations, row } = rows;
  const { terms, sums } = point;
  const squares = runningSums(cells, terms.square);
  const shares = new Float64Array(rows.count);
  // Indexes of rows, strata and cells are in range by construction.
  for (let i = 0; i < shares.length; i += 1) {
    const last = upTo[observations.stratum.codes[row[i]!]!]!;
    const from = entryCell === undefined ? 0 : squares[Math.min(entryCell[i]!, last)]!;
    shares[i] = -sums.relative[i]! * (squares[Math.min(exitCell[i]!, last)]! - from);
  }
  for (const i of eventRows) {
    const cell = exitCell[i]!;
    if (cell > upTo[observations.stratum.codes[row[i]!]!]!) continue;
    shares[i]! +=
      ((weight?.[i] ?? 1) * terms.hazard[cell]!) / cells.eventWeight[cell]! +
      sums.relative[i]! * terms.squareSpared[cell]!;
  }
  return shares;
}
