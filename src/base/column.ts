/**
 * One field of a table, stored as a typed array.
 *
 * `missing[row]` is 0 where a value is present; k means the k-th reason in `missingReasons`, counted
 * from 1. The value stored beside a missing mark means nothing and must not be read.
 */
export type Column = NumberColumn | CodeColumn | DayColumn | TextColumn;

interface ColumnBase {
  /** Field name as in the export. */
  readonly field: string;
  readonly missing: Uint8Array;
  /** Reason for `missing[row] === k` at index k − 1, in the dictionary's own words. */
  readonly missingReasons: readonly string[];
}

export interface NumberColumn extends ColumnBase {
  readonly kind: "number";
  readonly values: Float64Array;
}

/** A value out of a closed list. */
export interface CodeColumn extends ColumnBase {
  readonly kind: "code";
  /** Index into `codes` and `labels`. */
  readonly values: Uint8Array | Uint16Array;
  /** The words used in the file. */
  readonly codes: readonly string[];
  /** The words shown to readers, in the same order. */
  readonly labels: readonly string[];
}

export interface DayColumn extends ColumnBase {
  readonly kind: "day";
  /** Whole days since 1970-01-01. */
  readonly values: Int32Array;
}

export interface TextColumn extends ColumnBase {
  readonly kind: "text";
  readonly values: readonly string[];
}

/** Whether the row holds a value. */
export function isPresent(column: Column, row: number): boolean {
  return column.missing[row] === 0;
}

/** The reason a value is missing, or undefined where it is present. */
export function missingReason(column: Column, row: number): string | undefined {
  const reason = column.missing[row] ?? 0;
  return reason === 0 ? undefined : (column.missingReasons[reason - 1] ?? "no reason stated");
}
