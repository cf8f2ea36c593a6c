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
  for (let cell = 0; cell < cells.count; cell += 1) {
    const [mean, hazard] = [pull[cell]!, cumulative[cell]!];
    const end = cells.leaving[cell + 1]!;
    for (let i = cells.leaving[cell]!; i < end; i += 1) {
      shares[i] = relative[i]! * (mean - column[i]! * hazard);
    }
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

type RowsOfUnits = Pick<CoxRows, "count" | "row" | "weight">;
type UnitsOfRows = Pick<Units, "codes" | "count" | "factor">;

/** Sums of what rows share, by independent unit. */
export function sumsByUnit(
  rows: RowsOfUnits,
  shares: readonly Float64Array[],
  units: UnitsOfRows,
): readonly Float64Array[] {
  const unit = unitOfPlaces(rows, units);
  return ownShares(rows, shares, units).map((share) => {
    const sum = new Float64Array(units.count);
    for (let i = 0; i < share.length; i += 1) sum[unit[i]!]! += share[i]!;
    return sum;
  });
}

/** The same in any order of units, and how many have rows. Rows that are units of their own need no sorting. */
export function sumsOfUnits(
  rows: RowsOfUnits,
  shares: readonly Float64Array[],
  units: UnitsOfRows,
): { readonly sums: readonly Float64Array[]; readonly seen: number } {
  const seen = units.codes === undefined ? rows.count : unitsWithRows(unitOfPlaces(rows, units), units.count);
  return {
    sums: seen === rows.count ? ownShares(rows, shares, units) : sumsByUnit(rows, shares, units),
    seen,
  };
}

function unitsWithRows(unit: Int32Array, count: number): number {
  const isSeen = new Uint8Array(count);
  let seen = 0;
  for (let i = 0; i < unit.length; i += 1) {
    if (isSeen[unit[i]!] === 0) seen += 1;
    isSeen[unit[i]!] = 1;
  }
  return seen;
}

/** Shares carry the weight already; a copy that is a unit of its own adds its own square. */
function ownShares(
  { row, weight }: RowsOfUnits,
  shares: readonly Float64Array[],
  { factor }: UnitsOfRows,
): readonly Float64Array[] {
  if (weight === undefined) return shares;
  const again = weight.map((own, i) => factor(row[i]!) / own);
  return shares.map((share) => share.map((own, i) => again[i]! * own));
}

function unitOfPlaces({ row }: RowsOfUnits, { codes }: UnitsOfRows): Int32Array {
  if (codes === undefined) return row;
  const unit = new Int32Array(row.length);
  for (let i = 0; i < row.length; i += 1) unit[i] = codes[row[i]!]!;
  return unit;
}
