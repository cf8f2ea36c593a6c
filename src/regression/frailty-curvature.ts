import { runningSums } from "./cox-cells.ts";
import type { CellTerms } from "./cox-hazard.ts";
import { meanTimesHazard } from "./cox-influence.ts";
import { exposure } from "./cox-likelihood.ts";
import type { CoxRows } from "./cox-rows.ts";
import { cellSums, type RiskSums } from "./cox-sums.ts";
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

/** One pass over the rows for each direction asked about; no matrix between clusters is ever made. */
export function frailtyCurvature(
  rows: CoxRows,
  { of, count }: FrailtyClusters,
  sums: RiskSums,
  terms: CellTerms,
): FrailtyCurvature {
  const { cells, exitCell, entryCell, eventRows } = rows;
  const { relative } = sums;
  const exposed = exposure(rows, sums, terms);
  const column = new Float64Array(rows.count);
  const along = (values: Float64Array) => {
    const { atRisk, failing } = cellSums(rows, relative, values);
    const pull = runningSums(cells, meanTimesHazard({ atRiskBy: [atRisk], failingBy: [failing] }, terms, 0));
    const moved = new Float64Array(count);
    // Indexes of rows, cells and clusters are in range by construction.
    for (let i = 0; i < values.length; i += 1) {
      moved[of[i]!]! += exposed[i]! * values[i]! - relative[i]! * pull[exitCell[i]!]!;
    }
    if (entryCell !== undefined) {
      for (let i = 0; i < values.length; i += 1) moved[of[i]!]! += relative[i]! * pull[entryCell[i]!]!;
    }
    for (const i of eventRows) {
      const cell = exitCell[i]!;
      moved[of[i]!]! +=
        relative[i]! *
        (atRisk[cell]! * terms.squareSpared[cell]! - failing[cell]! * terms.squareSparedTwice[cell]!);
    }
    return moved;
  };
  const expected = new Float64Array(count);
  for (let i = 0; i < exposed.length; i += 1) expected[of[i]!]! += exposed[i]!;
  return {
    expected,
    along,
    alongClusters: (motion) => {
      for (let i = 0; i < column.length; i += 1) column[i] = motion[of[i]!]!;
      return along(column);
    },
  };
}
