import { addColumns, CHUNK } from "./add-columns.ts";
import { sumBackwards } from "./cox-cells.ts";
import type { CoxRows } from "./cox-rows.ts";

/** Sums over those at risk and over those with the event, in every cell. */
export interface RiskSums extends CellSums {
  /** weight · exp(x β) of each row. */
  readonly relative: Float64Array;
  /** By column: Σ weight · x over events. */
  readonly observed: readonly number[];
  /** Σ weight · x β over events. */
  readonly eventPredictor: number;
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
  const { cells } = rows;
  const relative = offset?.slice() ?? new Float64Array(rows.count);
  const whole = emptySums(cells.count);
  const by = values.map(() => emptySums(cells.count));
  // A few cells at a time, so that their rows stay near the processor from column to column.
  for (let cell = 0, end = 1; cell < cells.count; cell = end) {
    while (end < cells.count && cells.leaving[end]! - cells.leaving[cell]! < CHUNK) end += 1;
    toHazards(relative, rows.weight, values, beta, cells.leaving[cell]!, cells.leaving[end]!);
    addLeaving(whole, rows, relative, undefined, cell, end);
    for (let j = 0; j < values.length; j += 1) addLeaving(by[j]!, rows, relative, values[j]!, cell, end);
  }
  const { atRisk, failing } = toRisk(whole, rows, relative);
  by.forEach((sums, j) => {
    toRisk(sums, rows, relative, values[j]!);
  });
  const observed = by.map((sums) => sums.observed);
  const fixed = offset === undefined ? 0 : eventSum(rows, offset);
  return {
    relative,
    observed,
    eventPredictor: observed.reduce((sum, own, j) => sum + (beta[j] ?? 0) * own, fixed),
    atRisk,
    failing,
    atRiskBy: by.map((sums) => sums.atRisk),
    failingBy: by.map((sums) => sums.failing),
  };
}

/** Σ weight · column over events. */
export function eventSum({ eventRows, weight }: CoxRows, column: Float64Array): number {
  let sum = 0;
  for (let event = 0; event < eventRows.length; event += 1) {
    const i = eventRows[event]!;
    sum += weight === undefined ? column[i]! : weight[i]! * column[i]!;
  }
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
  toHazards(relative, weight, values, beta, 0, count);
  return relative;
}

/** Makes offsets hazards, from one row up to another. */
function toHazards(
  relative: Float64Array,
  weight: Float64Array | undefined,
  values: readonly Float64Array[],
  beta: ArrayLike<number>,
  first: number,
  end: number,
): void {
  // Indexes of rows and columns are in range by construction.
  for (let from = first; from < end; from += CHUNK) {
    const to = Math.min(from + CHUNK, end);
    addColumns(relative, values, beta, from, to);
    for (let i = from; i < to; i += 1) relative[i] = Math.exp(relative[i]!);
    if (weight !== undefined) for (let i = from; i < to; i += 1) relative[i]! *= weight[i]!;
  }
}

/** Σ relative · column over those at risk and over those with the event, in every cell; without a column Σ relative. */
export interface CellSums {
  readonly atRisk: Float64Array;
  readonly failing: Float64Array;
}

export function cellSums(rows: CoxRows, relative: Float64Array, column?: Float64Array): CellSums {
  const { count } = rows.cells;
  const sums = emptySums(count);
  addLeaving(sums, rows, relative, column, 0, count);
  return toRisk(sums, rows, relative, column);
}

/** `atRisk` holds what leaves in each cell until all have been added. */
interface GrowingSums extends CellSums {
  /** Σ weight · column over events. */
  observed: number;
}

function emptySums(cells: number): GrowingSums {
  return { atRisk: new Float64Array(cells), failing: new Float64Array(cells), observed: 0 };
}

function addLeaving(
  sums: GrowingSums,
  { cells, weight }: CoxRows,
  relative: Float64Array,
  column: Float64Array | undefined,
  first: number,
  end: number,
): void {
  // Those with the event lie first in a cell.
  for (let cell = first; cell < end; cell += 1) {
    const from = cells.leaving[cell]!;
    const others = from + cells.events[cell]!;
    for (let i = from; i < others; i += 1) sums.observed += (weight?.[i] ?? 1) * (column?.[i] ?? 1);
    const failing = sumOver(relative, column, from, others, 0);
    sums.failing[cell] = failing;
    sums.atRisk[cell] = sumOver(relative, column, others, cells.leaving[cell + 1]!, failing);
  }
}

function sumOver(
  relative: Float64Array,
  column: Float64Array | undefined,
  from: number,
  to: number,
  before: number,
): number {
  let sum = before;
  if (column === undefined) for (let i = from; i < to; i += 1) sum += relative[i]!;
  else for (let i = from; i < to; i += 1) sum += relative[i]! * column[i]!;
  return sum;
}

/** Makes sums of what leaves sums of what is at risk. */
function toRisk(
  sums: CellSums,
  { cells, exitCell, entryCell }: CoxRows,
  relative: Float64Array,
  column?: Float64Array,
): CellSums {
  if (entryCell === undefined) sumBackwards(cells, sums.atRisk);
  else sums.atRisk.set(sumsWithEntries(cells, exitCell, entryCell, relative, column));
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
