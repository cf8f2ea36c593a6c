import { sumBackwards } from "./cox-cells.ts";
import type { CoxRows } from "./cox-rows.ts";

/** Sums over those at risk and over those with the event, in every cell. */
export interface RiskSums {
  /** weight · exp(x β) of each row. */
  readonly relative: Float64Array;
  /** By column: Σ weight · x over events. */
  readonly observed: readonly number[];
  /** Σ weight · x β over events. */
  readonly eventPredictor: number;
  readonly atRisk: Float64Array;
  readonly failing: Float64Array;
  /** The same weighted by each column. */
  readonly atRiskBy: readonly Float64Array[];
  readonly failingBy: readonly Float64Array[];
}

/**
 * One pass over the rows, which lie in the order in which they leave: each is added to the cell of its exit and taken from
 * that of its entry, and a pass back over the cells makes the sums at risk.
 */
export function riskSums(
  rows: CoxRows,
  values: readonly Float64Array[],
  beta: ArrayLike<number>,
  offset?: Float64Array,
): RiskSums {
  const relative = relativeHazards(rows, values, beta, offset);
  const observed = values.map((column) => eventSum(rows, column));
  const fixed = offset === undefined ? 0 : eventSum(rows, offset);
  return {
    relative,
    observed,
    eventPredictor: observed.reduce((sum, own, j) => sum + (beta[j] ?? 0) * own, fixed),
    atRisk: sumsAtRisk(rows, relative),
    failing: sumsFailing(rows, relative),
    atRiskBy: values.map((column) => sumsAtRisk(rows, relative, column)),
    failingBy: values.map((column) => sumsFailing(rows, relative, column)),
  };
}

function eventSum({ eventRows, weight }: CoxRows, column: Float64Array): number {
  let sum = 0;
  for (let event = 0; event < eventRows.length; event += 1) {
    const i = eventRows[event]!;
    sum += weight === undefined ? column[i]! : weight[i]! * column[i]!;
  }
  return sum;
}

function sumsFailing({ cells }: CoxRows, relative: Float64Array, column?: Float64Array): Float64Array {
  const sums = new Float64Array(cells.count);
  for (let cell = 0; cell < cells.count; cell += 1) {
    const from = cells.leaving[cell]!;
    sums[cell] = sumOver(relative, column, from, from + cells.events[cell]!);
  }
  return sums;
}

function sumOver(relative: Float64Array, column: Float64Array | undefined, from: number, to: number): number {
  let sum = 0;
  if (column === undefined) for (let i = from; i < to; i += 1) sum += relative[i]!;
  else for (let i = from; i < to; i += 1) sum += relative[i]! * column[i]!;
  return sum;
}

/** weight · exp(offset + x β). */
export function relativeHazards(
  { count, weight }: Pick<CoxRows, "count" | "weight">,
  values: readonly Float64Array[],
  beta: ArrayLike<number>,
  offset?: Float64Array,
): Float64Array {
  const relative = offset?.slice() ?? new Float64Array(count);
  // Indexes of rows and columns are in range by construction.
  for (let from = 0; from < count; from += CHUNK) {
    const to = Math.min(from + CHUNK, count);
    for (let j = 0; j < values.length; j += 1) addScaled(relative, values[j]!, beta[j] ?? 0, from, to);
    for (let i = from; i < to; i += 1) relative[i] = Math.exp(relative[i]!);
  }
  if (weight !== undefined) for (let i = 0; i < count; i += 1) relative[i]! *= weight[i]!;
  return relative;
}

// Rows taken at a time, so that they stay near the processor from column to column.
const CHUNK = 1024;

function addScaled(sums: Float64Array, column: Float64Array, slope: number, from: number, to: number): void {
  if (slope !== 0) for (let i = from; i < to; i += 1) sums[i]! += slope * column[i]!;
}

export function sumsAtRisk(rows: CoxRows, relative: Float64Array, column?: Float64Array): Float64Array {
  const { cells, entryCell, exitCell } = rows;
  if (entryCell !== undefined) return sumsWithEntries(cells, exitCell, entryCell, relative, column);
  const sums = new Float64Array(cells.count);
  for (let cell = 0; cell < cells.count; cell += 1) {
    sums[cell] = sumOver(relative, column, cells.leaving[cell]!, cells.leaving[cell + 1]!);
  }
  sumBackwards(cells, sums);
  return sums;
}

/**
 * What enters is taken away again, so rounding errors are carried along (twice the precision): a row with a huge hazard
 * that has not entered yet must not drown those that are at risk.
 */
function sumsWithEntries(
  cells: CoxRows["cells"],
  exitCell: Int32Array,
  entryCell: Int32Array,
  relative: Float64Array,
  column?: Float64Array,
): Float64Array {
  const sums = new Float64Array(cells.count);
  const lost = new Float64Array(cells.count);
  const add = (cell: number, value: number) => {
    const sum = sums[cell]!;
    const next = sum + value;
    const taken = next - sum;
    lost[cell]! += sum - (next - taken) + (value - taken);
    sums[cell] = next;
  };
  for (let i = 0; i < relative.length; i += 1) {
    const value = column === undefined ? relative[i]! : relative[i]! * column[i]!;
    add(exitCell[i]!, value);
    add(entryCell[i]!, -value);
  }
  for (let stratum = 0; stratum < cells.begins.length; stratum += 1) {
    const begin = cells.begins[stratum]!;
    const last = (cells.begins[stratum + 1] ?? cells.count) - 1;
    for (let cell = last - 1; cell > begin; cell -= 1) {
      add(cell, sums[cell + 1]!);
      lost[cell]! += lost[cell + 1]!;
    }
    sums[begin] = 0;
    lost[begin] = 0;
  }
  return sums.map((sum, cell) => sum + lost[cell]!);
}
