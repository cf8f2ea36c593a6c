import { type Column, isPresent } from "../base/column.ts";
import type { Severity } from "../base/finding.ts";
import type { Cases } from "./cases.ts";
import { UNREADABLE_REASON } from "./cell-status.ts";
import type { FieldRole } from "./roles.ts";

/** Does this row break the rule? Made once a column, so that a million rows ask no name and no kind. */
export type RowTest = (row: number) => boolean;

/** A rule about the fields of one row. It applies where the export has every field it needs. */
export interface RowRule {
  readonly code: string;
  readonly severity: Severity;
  /** The field named in the finding: where a person looks first. */
  readonly at: FieldRole;
  /** The other fields that the rule reads. */
  readonly reads?: readonly FieldRole[];
  readonly details?: Readonly<Record<string, string | number>>;
  /** The test of a row, given the columns of `at` and `reads`; undefined where the fields are not of the right kind. */
  readonly test: (at: Column, reads: readonly Column[], cases: Cases) => RowTest | undefined;
}

export function missing(code: string, at: FieldRole, severity: Severity = "error"): RowRule {
  return { code, severity, at, test: (column) => absence(column) };
}

/** Breaks where the date of `at` lies before that of `anchor`. The same day is in order. */
export function earlier(
  code: string,
  at: FieldRole,
  anchor: FieldRole,
  severity: Severity = "error",
): RowRule {
  return { code, severity, at, reads: [anchor], test: daysApart((days) => days < 0) };
}

/** Breaks where the date of `at` lies after that of `anchor`, or more than `limit` days after it. */
export function later(
  code: string,
  at: FieldRole,
  anchor: FieldRole,
  severity: Severity = "error",
  limit = 0,
): RowRule {
  return { code, severity, at, reads: [anchor], test: daysApart((days) => days > limit) };
}

/** Breaks outside the closed range; a range around it, where given, belongs to a graver rule. */
export function outside(
  code: string,
  at: FieldRole,
  low: number,
  high: number,
  severity: Severity = "error",
  within: { readonly low: number; readonly high: number } = { low: -Infinity, high: Infinity },
): RowRule {
  return {
    code,
    severity,
    at,
    details: { low, high },
    test: (column) => {
      if (column.kind !== "number") return undefined;
      const { values, missing: absent } = column;
      return (row) => {
        // In range: columns have a value and a mark for every row.
        const value = values[row]!;
        if (absent[row] !== 0 || (value >= low && value <= high)) return false;
        return value >= within.low && value <= within.high;
      };
    },
  };
}

/** Breaks where a day of `at` lies on the wrong side of a fixed day. */
export function dayTest(isBroken: (day: number) => boolean): RowRule["test"] {
  return (column) => {
    if (column.kind !== "day") return undefined;
    const { values, missing: absent } = column;
    return (row) => absent[row] === 0 && isBroken(values[row]!);
  };
}

/** Present in the first column, and missing in the second, as the export says. */
export function presentWithout(column: Column, other: Column): RowTest {
  const isAbsent = absence(other);
  return (row) => isPresent(column, row) && isAbsent(row);
}

/** Missing as the export says; a cell that could not be read has its own finding already. */
export function absence({ missing: absent, missingReasons }: Column): RowTest {
  const unreadable = missingReasons.indexOf(UNREADABLE_REASON) + 1;
  return unreadable === 0
    ? (row) => absent[row] !== 0
    : (row) => absent[row] !== 0 && absent[row] !== unreadable;
}

function daysApart(isBroken: (days: number) => boolean): RowRule["test"] {
  return (column, [anchor]) => {
    if (column.kind !== "day" || anchor?.kind !== "day") return undefined;
    const { values, missing: absent } = column;
    const { values: anchorDays, missing: anchorAbsent } = anchor;
    return (row) => absent[row] === 0 && anchorAbsent[row] === 0 && isBroken(values[row]! - anchorDays[row]!);
  };
}
