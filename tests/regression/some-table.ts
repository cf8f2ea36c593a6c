import type { CodeColumn, Column, DayColumn, NumberColumn } from "../../src/base/column.ts";

/** A column of numbers; null is missing. */
export function numbers(
  field: string,
  values: readonly (number | null)[],
  reason = "not recorded",
): NumberColumn {
  return {
    kind: "number",
    field,
    values: Float64Array.from(values, (value) => value ?? Number.NaN),
    missing: Uint8Array.from(values, (value) => (value === null ? 1 : 0)),
    missingReasons: [reason],
  };
}

/** A column of levels; null is missing. Codes and labels are the levels, in the order given. */
export function levels(
  field: string,
  of: readonly string[],
  values: readonly (string | null)[],
  reason = "not recorded",
): CodeColumn {
  return {
    kind: "code",
    field,
    codes: of,
    labels: of,
    values: Uint16Array.from(values, (value) => Math.max(0, of.indexOf(value ?? ""))),
    missing: Uint8Array.from(values, (value) => (value === null ? 1 : 0)),
    missingReasons: [reason],
  };
}

export function days(field: string, values: readonly number[]): DayColumn {
  return {
    kind: "day",
    field,
    values: Int32Array.from(values),
    missing: new Uint8Array(values.length),
    missingReasons: [],
  };
}

/** A column of a reference file; empty cells are missing. */
export function fileNumbers(rows: readonly Readonly<Record<string, string>>[], field: string): Column {
  return numbers(
    field,
    rows.map((row) => (row[field] === "" ? null : Number(row[field]))),
  );
}

export function fileLevels(rows: readonly Readonly<Record<string, string>>[], field: string): Column {
  const values = rows.map((row) => row[field] || null);
  const present = values.filter((value): value is string => value !== null);
  return levels(field, [...new Set(present)].sort(), values);
}
