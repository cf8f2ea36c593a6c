import { runningSums } from "./cox-cells.ts";
import type { CellTerms } from "./cox-hazard.ts";
import { type CoxPoint, expectedAt } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import type { RiskSums } from "./cox-sums.ts";

/**
 * Each row's share of the score of one column, times its weight:
 *
 *   w ( δ (x − mean at its event) − relative · Σ (x − mean) · hazard over the cells it was at risk in )
 *
 * with the mean of the column over those at risk, under "efron" over the turns of the tick.
 */
export function scoreShares(
  rows: CoxRows,
  { sums, terms }: CoxPoint,
  column: Float64Array,
  j: number,
): Float64Array {
  const { cells, entryCell, weight } = rows;
  const { relative } = sums;
  const pull = runningSums(cells, meanTimesHazard(sums, terms, j));
  const sparedMeans = sparedMean(sums, terms, j);
  const { cumulative } = terms;
  const shares = new Float64Array(rows.count);
  // Indexes of rows and cells are in range by construction.
  for (let cell = 0; cell < cells.count; cell += 1) {
    const mean = pull[cell]!;
    const hazard = cumulative[cell]!;
    const from = cells.leaving[cell]!;
    const end = cells.leaving[cell + 1]!;
    for (let i = from; i < end; i += 1) shares[i] = relative[i]! * (mean - column[i]! * hazard);
    if (entryCell !== undefined) {
      for (let i = from; i < end; i += 1) {
        const entry = entryCell[i]!;
        shares[i]! -= relative[i]! * (pull[entry]! - column[i]! * cumulative[entry]!);
      }
    }
    if (cells.events[cell] === 0) continue;
    const eventMean = expectedAt(sums, terms, j, cell) / cells.eventWeight[cell]!;
    const spared = terms.spared[cell]!;
    const less = sparedMeans[cell]!;
    // Those with the event lie first in a cell.
    for (let i = from; i < from + cells.events[cell]!; i += 1) {
      shares[i]! +=
        (weight?.[i] ?? 1) * (column[i]! - eventMean) + relative[i]! * (column[i]! * spared - less);
    }
  }
  return shares;
}

/** Σ over the turns of a cell of mean · hazard. */
export function meanTimesHazard(
  sums: Pick<RiskSums, "atRiskBy" | "failingBy">,
  terms: CellTerms,
  j: number,
): Float64Array {
  return terms.square.map(
    (square, cell) =>
      sums.atRiskBy[j]![cell]! * square - sums.failingBy[j]![cell]! * terms.squareSpared[cell]!,
  );
}

/** Σ over the turns of a cell of share · mean · hazard: what an event of the tick is spared of the above. */
export function sparedMean(
  sums: Pick<RiskSums, "atRiskBy" | "failingBy">,
  terms: CellTerms,
  j: number,
): Float64Array {
  return terms.squareSpared.map(
    (square, cell) =>
      sums.atRiskBy[j]![cell]! * square - sums.failingBy[j]![cell]! * terms.squareSparedTwice[cell]!,
  );
}

/** Observed less expected events of each row, times its weight. */
export function martingaleShares(rows: CoxRows, { sums, terms }: CoxPoint): Float64Array {
  const { exitCell, entryCell, eventRows, weight } = rows;
  const shares = new Float64Array(rows.count);
  for (let i = 0; i < shares.length; i += 1) {
    const from = entryCell === undefined ? 0 : terms.cumulative[entryCell[i]!]!;
    shares[i] = -sums.relative[i]! * (terms.cumulative[exitCell[i]!]! - from);
  }
  for (const i of eventRows) {
    shares[i]! += (weight?.[i] ?? 1) + sums.relative[i]! * terms.spared[exitCell[i]!]!;
  }
  return shares;
}
