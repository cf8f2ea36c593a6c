import { runningSums, sumBackwards } from "./cox-cells.ts";
import type { CellTerms } from "./cox-hazard.ts";
import { meanTimesHazard, sparedMean } from "./cox-influence.ts";
import { exposure } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import { type CellSums, cellSums } from "./cox-sums.ts";
import type { FrailtyClusters } from "./frailty-clusters.ts";

/** How the expected events of clusters move when a predictor moves, at one point of the likelihood. */
export interface FrailtyCurvature {
  /** Expected events of each cluster, its frailty included. */
  readonly expected: Float64Array;
  /** By cluster: change of the expected events when every row's predictor moves along a column. */
  readonly along: (column: Float64Array) => Float64Array;
  /** The same when each cluster's log frailty moves. */
  readonly alongClusters: (motion: Float64Array) => Float64Array;
}

/** Two passes over the rows for each direction asked about; no matrix between clusters is ever made. */
export function frailtyCurvature(
  rows: CoxRows,
  { of, count }: FrailtyClusters,
  relative: Float64Array,
  terms: CellTerms,
): FrailtyCurvature {
  const exposed = exposure(rows, { relative }, terms);
  const expected = new Float64Array(count);
  // Indexes of rows, cells and clusters are in range by construction.
  for (let i = 0; i < exposed.length; i += 1) expected[of[i]!]! += exposed[i]!;
  const along = (column: Float64Array) => {
    const moved = new Float64Array(count);
    for (let i = 0; i < column.length; i += 1) moved[of[i]!]! += exposed[i]! * column[i]!;
    takeShared(moved, rows, of, relative, terms, cellSums(rows, relative, column));
    return moved;
  };
  return {
    expected,
    along,
    alongClusters: (motion) => {
      // All rows of a cluster move alike, so that their exposures are added up already.
      const moved = expected.map((own, cluster) => own * motion[cluster]!);
      takeShared(moved, rows, of, relative, terms, clusterSums(rows, of, relative, motion));
      return moved;
    },
  };
}

/** `cellSums` of a column that is the same in all rows of a cluster. */
function clusterSums(rows: CoxRows, of: Int32Array, relative: Float64Array, motion: Float64Array): CellSums {
  const { cells, entryCell } = rows;
  if (entryCell !== undefined) {
    return cellSums(
      rows,
      relative,
      Float64Array.from(of, (cluster) => motion[cluster]!),
    );
  }
  const atRisk = new Float64Array(cells.count);
  const failing = new Float64Array(cells.count);
  // Those with the event lie first in a cell.
  for (let cell = 0; cell < cells.count; cell += 1) {
    const from = cells.leaving[cell]!;
    const others = from + cells.events[cell]!;
    const end = cells.leaving[cell + 1]!;
    let sum = 0;
    for (let i = from; i < others; i += 1) sum += relative[i]! * motion[of[i]!]!;
    failing[cell] = sum;
    for (let i = others; i < end; i += 1) sum += relative[i]! * motion[of[i]!]!;
    atRisk[cell] = sum;
  }
  sumBackwards(cells, atRisk);
  return { atRisk, failing };
}

/** What moves with everybody at risk: relative · Σ mean · hazard over the cells a row was at risk in, by cluster. */
function takeShared(
  moved: Float64Array,
  { cells, entryCell }: CoxRows,
  of: Int32Array,
  relative: Float64Array,
  terms: CellTerms,
  { atRisk, failing }: CellSums,
): void {
  const sums = { atRiskBy: [atRisk], failingBy: [failing] };
  const pull = runningSums(cells, meanTimesHazard(sums, terms, 0));
  const spared = sparedMean(sums, terms, 0);
  for (let cell = 0; cell < cells.count; cell += 1) {
    const from = cells.leaving[cell]!;
    const end = cells.leaving[cell + 1]!;
    const own = pull[cell]!;
    for (let i = from; i < end; i += 1) moved[of[i]!]! -= relative[i]! * own;
    // Those with the event lie first in a cell.
    const less = spared[cell]!;
    for (let i = from; i < from + cells.events[cell]!; i += 1) moved[of[i]!]! += relative[i]! * less;
  }
  if (entryCell === undefined) return;
  for (let i = 0; i < of.length; i += 1) moved[of[i]!]! += relative[i]! * pull[entryCell[i]!]!;
}
