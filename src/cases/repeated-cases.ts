import { type CodeColumn, type Column, isPresent } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import { forEachRepeat, type RowCodes, rowCodes } from "./row-codes.ts";

/**
 * Rows that describe the same case twice, and patients with two first operations on one side.
 *
 * Two first operations overlap in time unless one knee was revised by the day of the other: that one is the revision.
 * A repeated case is told apart by its other fields: all equal is a copy, anything different is a conflict that only
 * the supplier can settle. Neither is dropped here, because which row to trust is not ours to say.
 */
export function reportRepeatedCases(cases: Cases, log: FindingLog): void {
  const caseId = columnOfRole(cases, "caseId");
  if (caseId === undefined) return;
  const report = (code: string, column: Column, row: number, first: number) =>
    log.add({
      code,
      severity: "error",
      row: row + 1,
      line: cases.source.lineOfRow[row] ?? 0,
      field: column.field,
      details: { firstRow: first + 1 },
    });
  const repeated = new Uint8Array(cases.rows);
  forEachRepeat(rowCodes(caseId), (row, first) => {
    repeated[row] = 1;
    report(isSameRow(cases, row, first) ? "case-repeated" : "case-conflicting", caseId, row, first);
  });
  const patient = columnOfRole(cases, "patientId");
  const side = columnOfRole(cases, "side");
  if (patient === undefined || side?.kind !== "code") return;
  const revises = revisionTest(cases);
  forEachKneeTwice(rowCodes(patient), side, repeated, (row, first) =>
    report(revises(row, first) ? "knee-revised-as-first" : "knee-repeated", patient, row, first),
  );
}

/** Whether one of two operations on a knee lies on or after the revision of the other. */
function revisionTest(cases: Cases): (row: number, first: number) => boolean {
  const operated = columnOfRole(cases, "operationDate");
  const revised = columnOfRole(cases, "revisionDate");
  if (operated?.kind !== "day" || revised?.kind !== "day") return () => false;
  const isAfter = (one: number, other: number) =>
    isPresent(operated, one) &&
    isPresent(revised, other) &&
    // In range: both are rows of the columns.
    operated.values[one]! >= revised.values[other]!;
  return (row, first) => isAfter(row, first) || isAfter(first, row);
}

/** A repeated case was reported as such; a knee whose side is missing may be the other one. */
function forEachKneeTwice(
  patients: RowCodes,
  side: CodeColumn,
  repeated: Uint8Array,
  visit: (row: number, first: number) => void,
): void {
  // The first row of each knee, as a list for each patient.
  const head = new Int32Array(patients.count).fill(-1);
  const next = new Int32Array(repeated.length);
  for (let row = 0; row < repeated.length; row += 1) {
    if (repeated[row] === 1 || !isPresent(side, row)) continue;
    // In range: codes of patients are below their count, and lists hold rows.
    const patient = patients.codes[row]!;
    let first = head[patient]!;
    while (first >= 0 && side.values[first] !== side.values[row]) first = next[first]!;
    if (first >= 0) visit(row, first);
    else {
      next[row] = head[patient]!;
      head[patient] = row;
    }
  }
}

function isSameRow(cases: Cases, one: number, other: number): boolean {
  return [...cases.columns.values()].every(
    (column) =>
      column.missing[one] === column.missing[other] &&
      (!isPresent(column, one) || column.values[one] === column.values[other]),
  );
}
