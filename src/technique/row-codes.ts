import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { type RowCodes, rowCodes } from "../cases/row-codes.ts";

export { type RowCodes, rowCodes };

/** Units, and the persons who own them. */
export interface UnitCount {
  readonly units: number;
  readonly persons: number;
}

/** Every row, in order. */
export function allRows(count: number): Int32Array<ArrayBuffer> {
  const rows = new Int32Array(count);
  for (let row = 0; row < count; row += 1) rows[row] = row;
  return rows;
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
