import { ArgumentError } from "../base/errors.ts";
import { checkObservations } from "../survival/check-observations.ts";
import { eventIndexes, netRoles } from "../survival/event-roles.ts";
import type { ObservationColumns, Observations } from "../survival/observations.ts";
import { type RiskCells, riskCells } from "./cox-cells.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { type ScaledColumn, scaledColumn } from "./scaled-columns.ts";

/**
 * Rows ready for fitting: those of weight 0 are left out, columns are scaled, and each row knows its risk sets.
 * They lie in the order of the cells in which they leave, within a cell those with an event first.
 */
export interface CoxRows {
  readonly count: number;
  readonly observations: Observations;
  /** Row of the observations, and row of the matrix, of each place in the arrays below. */
  readonly row: Int32Array;
  readonly place: Int32Array;
  readonly columns: readonly ScaledColumn[];
  readonly cells: RiskCells;
  /** At risk in the cells after `entryCell` up to and with `exitCell`. */
  readonly exitCell: Int32Array;
  /** Absent where every row is there from the start. */
  readonly entryCell?: Int32Array;
  readonly weight?: Float64Array;
  /** Places of the rows with an event. */
  readonly eventRows: Int32Array;
  readonly event: readonly string[];
}

/** Rows of `observations` and `matrix` as the fits take them. Sorted once, by counting. */
export function coxRows(
  where: string,
  columns: ObservationColumns,
  matrix: ModelMatrix,
  event?: readonly string[],
): CoxRows {
  const observations = checkObservations(columns);
  const causes = event ?? observations.causes;
  const { wanted } = netRoles(observations.causes, eventIndexes(where, observations.causes, causes));
  checkMatrix(where, observations, matrix);
  const given = placesWithWeight(observations, matrix);
  const givenRow = rowsAt(matrix, given);
  const { cells, rank, entryCell } = riskCells(observations, givenRow, wanted);
  const row = ranked(givenRow, rank);
  const weight =
    observations.weight && Float64Array.from(row, (one) => observations.weight?.values[one] ?? 0);
  return {
    count: row.length,
    observations,
    row,
    place: ranked(given, rank),
    columns: matrix.columns.map(({ name, values }) => scaledColumn(where, name, values, given, rank)),
    cells,
    exitCell: exitCells(cells),
    eventRows: placesWithEvent(cells),
    event: [...causes],
    ...(entryCell && { entryCell: ranked(entryCell, rank) }),
    ...(weight && { weight }),
  };
}

function placesWithWeight({ weight }: Observations, { rows }: ModelMatrix): Int32Array {
  const places = new Int32Array(rows.length);
  let count = 0;
  for (let at = 0; at < rows.length; at += 1) {
    if (weight === undefined || weight.values[rows[at]!]! > 0) places[count++] = at;
  }
  return places.subarray(0, count);
}

function rowsAt({ rows }: ModelMatrix, places: Int32Array): Int32Array {
  const taken = new Int32Array(places.length);
  for (let at = 0; at < places.length; at += 1) taken[at] = rows[places[at]!]!;
  return taken;
}

function ranked(values: Int32Array, rank: Int32Array): Int32Array {
  const moved = new Int32Array(rank.length);
  for (let at = 0; at < rank.length; at += 1) moved[rank[at]!] = values[at]!;
  return moved;
}

/** Rows lie by the cell in which they leave. */
function exitCells({ count, leaving }: RiskCells): Int32Array {
  const exits = new Int32Array(leaving[count]!);
  for (let cell = 0; cell < count; cell += 1) exits.fill(cell, leaving[cell], leaving[cell + 1]);
  return exits;
}

function placesWithEvent({ count, events, leaving }: RiskCells): Int32Array {
  const places = new Int32Array(events.reduce((sum, own) => sum + own, 0));
  let next = 0;
  for (let cell = 0; cell < count; cell += 1) {
    for (let event = 0; event < events[cell]!; event += 1) places[next++] = leaving[cell]! + event;
  }
  return places;
}

function checkMatrix(where: string, { rows }: Observations, matrix: ModelMatrix): void {
  const names = matrix.columns.map(({ name }) => name);
  const repeated = names.find((name, at) => names.indexOf(name) < at);
  if (repeated !== undefined) {
    throw new ArgumentError(
      `${where}: the model has two columns named "${repeated}"; give each its own name`,
    );
  }
  for (const { name, values } of matrix.columns) {
    if (values.length === matrix.rows.length) continue;
    throw new ArgumentError(
      `${where}: column "${name}" has ${values.length} values and the model ${matrix.rows.length} rows; build both from one table`,
    );
  }
  const seen = new Uint8Array(rows);
  for (let at = 0; at < matrix.rows.length; at += 1) {
    const row = matrix.rows[at] ?? -1;
    if (row >= 0 && row < rows && seen[row] === 0) {
      seen[row] = 1;
      continue;
    }
    throw new ArgumentError(
      `${where}: row ${at + 1} of the model matrix must name a row of the observations that no other names; build both from one table`,
    );
  }
}
