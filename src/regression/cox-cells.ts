import type { Observations } from "../survival/observations.ts";
import { stepsUpTo } from "../survival/risk-steps.ts";
import { passedSteps } from "../survival/row-order.ts";

/**
 * One cell for every tick at which a stratum has an event, in order of time, after one empty cell in which each stratum
 * begins. A row that has passed k of its stratum's event ticks lies k cells after that beginning, so that whatever is
 * summed over the cells between entry and exit is a difference of two running sums.
 */
export interface RiskCells {
  readonly count: number;
  /** Where each stratum begins; its cells end where the next one begins. */
  readonly begins: Int32Array;
  /** −1 in the cell in which a stratum begins. */
  readonly tick: Int32Array;
  /** Rows with an event. */
  readonly events: Int32Array;
  /** Their weights, added. */
  readonly eventWeight: Float64Array;
  /** Rows that leave in cell c lie from `leaving[c]` up to `leaving[c + 1]`. */
  readonly leaving: Int32Array;
}

// With more strata the tables by tick would outgrow the rows.
const STRATA_WITH_TABLES = 16;

export interface CellsOfRows {
  readonly cells: RiskCells;
  readonly exitCell: Int32Array;
  readonly entryCell?: Int32Array;
  /** Where each row goes in the order of exit cells; rows of one cell keep their order. */
  readonly rank: Int32Array;
}

/** Cells of the rows of the observations given. */
export function riskCells(
  observations: Observations,
  row: Int32Array,
  wanted: readonly boolean[],
): CellsOfRows {
  const { exit, entry, event, stratum, weight } = observations;
  const strata = stratum.labels.length;
  const isEvent = (one: number) => wanted[event[one]! - 1] === true;
  const ticks = eventTicks(observations, row, isEvent);
  const begins = new Int32Array(strata);
  for (let at = 1; at < strata; at += 1) begins[at] = begins[at - 1]! + ticks[at - 1]!.length + 1;
  const count = begins[strata - 1]! + ticks[strata - 1]!.length + 1;
  const passed = ticks.map((own) =>
    strata <= STRATA_WITH_TABLES ? passedSteps(own) : (tick: number) => stepsUpTo(own, tick),
  );
  const cellAt = (time: Int32Array) => {
    const cells = new Int32Array(row.length);
    // Rows and strata are in range: the observations were checked.
    for (let at = 0; at < row.length; at += 1) {
      const own = stratum.codes[row[at]!]!;
      cells[at] = begins[own]! + passed[own]!(time[row[at]!]!);
    }
    return cells;
  };
  const exitCell = cellAt(exit);
  const tick = new Int32Array(count).fill(-1);
  ticks.forEach((own, at) => {
    tick.set(own, begins[at]! + 1);
  });
  const events = new Int32Array(count);
  const eventWeight = new Float64Array(count);
  for (let at = 0; at < row.length; at += 1) {
    if (!isEvent(row[at]!)) continue;
    events[exitCell[at]!]! += 1;
    eventWeight[exitCell[at]!]! += weight?.values[row[at]!] ?? 1;
  }
  const { rank, from: leaving } = ranksOf(exitCell, count);
  const cells: RiskCells = { count, begins, tick, events, eventWeight, leaving };
  return { cells, exitCell, rank, ...(entry && { entryCell: cellAt(entry) }) };
}

/** The different ticks with an event, by stratum, ascending. */
function eventTicks(
  { exit, stratum }: Observations,
  row: Int32Array,
  isEvent: (row: number) => boolean,
): Int32Array[] {
  const lists: number[][] = stratum.labels.map(() => []);
  for (let at = 0; at < row.length; at += 1) {
    if (isEvent(row[at]!)) lists[stratum.codes[row[at]!]!]!.push(exit[row[at]!]!);
  }
  return lists.map((list) =>
    Int32Array.from(list)
      .sort()
      .filter((tick, at, sorted) => at === 0 || tick !== sorted[at - 1]),
  );
}

/** Counting sort: rows of cell c rank from `from[c]` up to `from[c + 1]`. */
function ranksOf(cell: Int32Array, cells: number): { readonly rank: Int32Array; readonly from: Int32Array } {
  const from = new Int32Array(cells + 1);
  for (let at = 0; at < cell.length; at += 1) from[cell[at]! + 1]! += 1;
  for (let at = 0; at < cells; at += 1) from[at + 1]! += from[at]!;
  const rank = new Int32Array(cell.length);
  const next = from.slice();
  for (let at = 0; at < cell.length; at += 1) rank[at] = next[cell[at]!]!++;
  return { rank, from };
}

/** For each stratum from its last cell back to its beginning: what was added where rows leave becomes what is at risk. */
export function sumBackwards({ begins, count }: RiskCells, values: Float64Array): void {
  for (let stratum = 0; stratum < begins.length; stratum += 1) {
    const last = (begins[stratum + 1] ?? count) - 1;
    for (let cell = last - 1; cell > begins[stratum]!; cell -= 1) values[cell]! += values[cell + 1]!;
    values[begins[stratum]!] = 0;
  }
}

/** Running sums within each stratum, 0 where it begins. */
export function runningSums({ begins, count }: RiskCells, values: Float64Array): Float64Array {
  const sums = new Float64Array(count);
  for (let stratum = 0; stratum < begins.length; stratum += 1) {
    const end = begins[stratum + 1] ?? count;
    for (let cell = begins[stratum]! + 1; cell < end; cell += 1) sums[cell] = sums[cell - 1]! + values[cell]!;
  }
  return sums;
}

/** Running sums with what rounding lost, so that a difference of two of them is exact however small. */
export function preciseRunningSums(
  cells: RiskCells,
  values: Float64Array,
): { readonly sums: Float64Array; readonly lost: Float64Array } {
  const sums = runningSums(cells, values);
  const lost = new Float64Array(cells.count);
  for (let cell = 1; cell < cells.count; cell += 1) {
    if (cells.tick[cell]! < 0) continue;
    const [before, value] = [sums[cell - 1]!, values[cell]!];
    const taken = sums[cell]! - before;
    lost[cell] = lost[cell - 1]! + (before - (sums[cell]! - taken)) + (value - taken);
  }
  return { sums, lost };
}
