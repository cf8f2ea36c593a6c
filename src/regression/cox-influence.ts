import type { Units } from "../survival/units.ts";
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
  const { cells, exitCell, entryCell, eventRows, weight } = rows;
  const { relative } = sums;
  const pull = runningSums(cells, meanTimesHazard(sums, terms, j));
  const { cumulative } = terms;
  const shares = new Float64Array(rows.count);
  // Indexes of rows and cells are in range by construction.
  for (let i = 0; i < shares.length; i += 1) {
    const cell = exitCell[i]!;
    shares[i] = relative[i]! * (pull[cell]! - column[i]! * cumulative[cell]!);
  }
  if (entryCell !== undefined) {
    for (let i = 0; i < shares.length; i += 1) {
      const cell = entryCell[i]!;
      shares[i]! -= relative[i]! * (pull[cell]! - column[i]! * cumulative[cell]!);
    }
  }
  for (const i of eventRows) {
    const cell = exitCell[i]!;
    const mean = expectedAt(sums, terms, j, cell) / cells.eventWeight[cell]!;
    const sparedMean =
      sums.atRiskBy[j]![cell]! * terms.squareSpared[cell]! -
      sums.failingBy[j]![cell]! * terms.squareSparedTwice[cell]!;
    shares[i]! +=
      (weight?.[i] ?? 1) * (column[i]! - mean) +
      relative[i]! * (column[i]! * terms.spared[cell]! - sparedMean);
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

/** Sums of what rows share, by independent unit, and how many units have rows. */
export function sumsByUnit(
  rows: Pick<CoxRows, "count" | "row" | "weight">,
  shares: readonly Float64Array[],
  units: Pick<Units, "codes" | "count" | "factor">,
): { readonly sums: readonly Float64Array[]; readonly seen: number } {
  const { row, weight } = rows;
  const sums = shares.map(() => new Float64Array(units.count));
  const seen = new Uint8Array(units.count);
  for (let i = 0; i < rows.count; i += 1) {
    const unit = units.codes?.[row[i]!] ?? row[i]!;
    // Shares carry the weight already; a copy that is a unit of its own adds its own square.
    const factor = weight === undefined ? 1 : units.factor(row[i]!) / weight[i]!;
    seen[unit] = 1;
    for (let j = 0; j < shares.length; j += 1) sums[j]![unit]! += factor * shares[j]![i]!;
  }
  return { sums, seen: seen.reduce((sum, one) => sum + one, 0) };
}
