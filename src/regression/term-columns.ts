import type { Column } from "../base/column.ts";
import { ArgumentError } from "../base/errors.ts";

/** The columns a model may use: a map by field name, as a case export is read, or a plain list. */
export type NamedColumns = ReadonlyMap<string, Column> | readonly Column[];

/** Looks a field up, and says what there is where it is unknown. */
export type ColumnOf = (term: string, field: string) => Column;

export function columnLookup(columns: NamedColumns): ColumnOf {
  const byField = isMap(columns) ? columns : new Map(columns.map((column) => [column.field, column]));
  return (term, field) => {
    const column = byField.get(field);
    if (column !== undefined) return column;
    throw new ArgumentError(
      `modelMatrix: term "${term}" asks for the column "${field}", which the table does not have; ` +
        `it has ${[...byField.keys()].join(", ")}`,
    );
  };
}

/** Rows of a table, from any of its columns; all must be as long. */
export function tableRows(columns: NamedColumns): number {
  const [first, ...others] = isMap(columns) ? [...columns.values()] : columns;
  if (first === undefined) throw new ArgumentError("modelMatrix: the table has no column");
  const odd = others.find(({ missing }) => missing.length !== first.missing.length);
  if (odd !== undefined) {
    throw new ArgumentError(
      `modelMatrix: column "${odd.field}" has ${odd.missing.length} rows and "${first.field}" has ${first.missing.length}`,
    );
  }
  return first.missing.length;
}

/** Numbers of a column that holds numbers or days. */
export function numbersOf(term: string, column: Column): ArrayLike<number> {
  if (column.kind === "number" || column.kind === "day") return column.values;
  throw new ArgumentError(
    `modelMatrix: term "${term}" needs numbers or days, and column "${column.field}" holds ${
      column.kind === "code" ? "codes (use categoryTerm)" : "text"
    }`,
  );
}

/** A value for each row used; one that is not finite is refused, since it is neither present nor missing. */
export function finiteValues(
  term: string,
  values: ArrayLike<number>,
  rows: Int32Array,
  change: (value: number) => number,
): Float64Array {
  const changed = new Float64Array(rows.length);
  for (let at = 0; at < rows.length; at += 1) {
    const row = rows[at] ?? 0;
    const value = change(values[row] ?? Number.NaN);
    if (!Number.isFinite(value)) {
      throw new ArgumentError(
        `modelMatrix: row ${row + 1}, term "${term}": the value is not a finite number; mark it as missing or mend it`,
      );
    }
    changed[at] = value;
  }
  return changed;
}

function isMap(columns: NamedColumns): columns is ReadonlyMap<string, Column> {
  return !Array.isArray(columns);
}
