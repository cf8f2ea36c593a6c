import type { Column } from "../base/column.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "./named-column.ts";

/** A whole number per row: equal values have equal codes, counted from 0 without gaps. */
export interface RowCodes {
  readonly codes: Int32Array;
  readonly count: number;
}

/** Units, and the persons who own them. */
export interface UnitCount {
  readonly units: number;
  readonly persons: number;
}

/** Codes of the columns already read: a study asks for its patients again and again. */
const known = new WeakMap<Column, RowCodes>();

/**
 * Which rows share a value of a column, such as the patient or the surgeon.
 *
 * A row where the value is missing gets a code of its own: nothing says that it belongs to another. The same column
 * gives the same record, so its codes must not be changed.
 */
export function rowCodes(column: Column): RowCodes {
  const before = known.get(column);
  if (before !== undefined) return before;
  const codes = codesOf(column);
  known.set(column, codes);
  return codes;
}

/** Every row, in order. */
export function allRows(count: number): Int32Array<ArrayBuffer> {
  const rows = new Int32Array(count);
  for (let row = 0; row < count; row += 1) rows[row] = row;
  return rows;
}

function codesOf(column: Column): RowCodes {
  const { values, missing } = column;
  const codes = new Int32Array(missing.length);
  const codeOf = new Map<string | number, number>();
  let count = 0;
  for (let row = 0; row < codes.length; row += 1) {
    const value = values[row];
    let code = missing[row] === 0 && value !== undefined ? codeOf.get(value) : undefined;
    if (code === undefined) {
      code = count;
      count += 1;
      if (missing[row] === 0 && value !== undefined) codeOf.set(value, code);
    }
    codes[row] = code;
  }
  return { codes, count };
}

/** The person who owns each row. Without a field for persons every row is taken as a person of its own. */
export function personCodes(cases: Cases): RowCodes {
  const column = columnOfRole(cases, "patientId");
  if (column !== undefined) return rowCodes(column);
  return { codes: allRows(cases.rows), count: cases.rows };
}

/** How many units and persons these rows are. */
export function countUnits(rows: ArrayLike<number>, persons: RowCodes): UnitCount {
  const seen = new Uint8Array(persons.count);
  let count = 0;
  for (let at = 0; at < rows.length; at += 1) {
    // Rows and codes are indexes made by this package: both in range.
    const person = persons.codes[rows[at]!]!;
    if (seen[person] === 0) count += 1;
    seen[person] = 1;
  }
  return { units: rows.length, persons: count };
}
