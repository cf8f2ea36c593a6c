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
  /** Rows that leave in cell c lie from `leaving[c]` up to `leaving[c + 1]`, the `events[c]` with an event first. */
  readonly leaving: Int32Array;
}

// With more strata the tables by tick would outgrow the rows.
const STRATA_WITH_TABLES = 16;

export interface CellsOfRows {
  readonly cells: RiskCells;
  /** Absent where every row is there from the beginning of its stratum. */
  readonly entryCell?: Int32Array;
  /** Where each row goes in the order of exit cells, those with an event first, else in their own order. */
  readonly rank: Int32Array;
}

/** Cells of the rows of the observations given. */
export function riskCells(
  observations: Observations,
  row: Int32Array,
  wanted: readonly boolean[],
): CellsOfRows {
  const { exit, entry, stratum, weight } = observations;
  const hasEvent = eventFlags(observations, row, wanted);
  const ticks = eventTicks(observations, row, hasEvent);
  const begins = new Int32Array(ticks.length);
  for (let at = 1; at < begins.length; at += 1) begins[at] = begins[at - 1]! + ticks[at - 1]!.length + 1;
  const count = begins.at(-1)! + ticks.at(-1)!.length + 1;
  const tick = new Int32Array(count).fill(-1);
  ticks.forEach((own, at) => {
    tick.set(own, begins[at]! + 1);
  });
  const cellAt = cellLookUp(stratum.codes, row, begins, ticks);
  const exitCell = cellAt(exit);
  const events = new Int32Array(count);
  const eventWeight = new Float64Array(count);
  // Rows and cells are in range: the observations were checked.
  for (let at = 0; at < row.length; at += 1) {
    if (hasEvent[at] === 0) continue;
    const cell = exitCell[at]!;
    events[cell]! += 1;
    eventWeight[cell]! += weight === undefined ? 1 : weight.values[row[at]!]!;
  }
  const { rank, from: leaving } = ranksOf(exitCell, hasEvent, events);
  const cells: RiskCells = { count, begins, tick, events, eventWeight, leaving };
  const entryCell = entry && cellAt(entry);
  return { cells, rank, ...(entryCell && !areBeginnings(entryCell, tick) && { entryCell }) };
}

function eventFlags({ event }: Observations, row: Int32Array, wanted: readonly boolean[]): Uint8Array {
  const isWanted = Uint8Array.from([0, ...wanted.map(Number)]);
  const flags = new Uint8Array(row.length);
  for (let at = 0; at < row.length; at += 1) flags[at] = isWanted[event[row[at]!]!]!;
  return flags;
}

function areBeginnings(cell: Int32Array, tick: Int32Array): boolean {
  for (let at = 0; at < cell.length; at += 1) if (tick[cell[at]!]! >= 0) return false;
  return true;
}

/** The different ticks with an event, by stratum, ascending. */
function eventTicks({ exit, stratum }: Observations, row: Int32Array, hasEvent: Uint8Array): Int32Array[] {
  const lists: number[][] = stratum.labels.map(() => []);
  for (let at = 0; at < row.length; at += 1) {
    if (hasEvent[at] === 1) lists[stratum.codes[row[at]!]!]!.push(exit[row[at]!]!);
  }
  return lists.map((list) =>
    Int32Array.from(list)
      .sort()
      .filter((tick, at, sorted) => at === 0 || tick !== sorted[at - 1]),
  );
}

/** From ticks by row to cells. */
function cellLookUp(
  stratum: Uint16Array,
  row: Int32Array,
  begins: Int32Array,
  ticks: readonly Int32Array[],
): (time: Int32Array) => Int32Array {
  const passed = ticks.map((own) =>
    ticks.length <= STRATA_WITH_TABLES ? passedSteps(own) : (tick: number) => stepsUpTo(own, tick),
  );
  return (time) => {
    const cells = new Int32Array(row.length);
    for (let at = 0; at < row.length; at += 1) {
      const own = stratum[row[at]!]!;
      cells[at] = begins[own]! + passed[own]!(time[row[at]!]!);
    }
    return cells;
  };
}

/** Counting sort: rows of cell c rank from `from[c]` up to `from[c + 1]`. */
function ranksOf(
  cell: Int32Array,
  hasEvent: Uint8Array,
  events: Int32Array,
): { readonly rank: Int32Array; readonly from: Int32Array } {
  const from = new Int32Array(events.length + 1);
  for (let at = 0; at < cell.length; at += 1) from[cell[at]! + 1]! += 1;
  for (let at = 0; at < events.length; at += 1) from[at + 1]! += from[at]!;
  const rank = new Int32Array(cell.length);
  const nextEvent = from.slice();
  const nextOther = events.map((count, at) => from[at]! + count);
  for (let at = 0; at < cell.length; at += 1) {
    rank[at] = hasEvent[at] === 1 ? nextEvent[cell[at]!]!++ : nextOther[cell[at]!]!++;
  }
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
