import type { Column } from "../base/column.ts";
import type { Cases } from "../cases/cases.ts";
import type { FieldRole } from "../cases/roles.ts";

/** Whole-number codes of a field over all rows, 0 up. A row without a value is a cluster of its own. */
export interface RowCodes {
  readonly codes: Int32Array;
  readonly count: number;
}

/** Codes of the field with the given role, or undefined where the export has none. */
export function roleCodes(cases: Cases, role: FieldRole): RowCodes | undefined {
  const field = cases.fieldOfRole.get(role);
  const column = field === undefined ? undefined : cases.columns.get(field);
  return column === undefined ? undefined : codesOf(column, cases.rows);
}

/** Who owns each row. Without a person field every row is a person. */
export function personCodes(cases: Cases): RowCodes {
  return (
    roleCodes(cases, "patientId") ?? {
      codes: Int32Array.from({ length: cases.rows }, (_, row) => row),
      count: cases.rows,
    }
  );
}

/** How many different codes the rows hold. */
export function distinct(codes: Int32Array, rows: ArrayLike<number>): number {
  const seen = new Set<number>();
  for (let at = 0; at < rows.length; at += 1) seen.add(codes[rows[at] ?? -1] ?? -1);
  return seen.size;
}

function codesOf(column: Column, rows: number): RowCodes {
  const codes = new Int32Array(rows);
  const known = new Map<string | number, number>();
  let count = 0;
  for (let row = 0; row < rows; row += 1) {
    const value = column.values[row];
    let code = column.missing[row] === 0 && value !== undefined ? known.get(value) : undefined;
    if (code === undefined) {
      code = count;
      count += 1;
      if (column.missing[row] === 0 && value !== undefined) known.set(value, code);
    }
    codes[row] = code;
  }
  return { codes, count };
}
