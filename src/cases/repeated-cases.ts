import { type Column, isPresent } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";

/**
 * Rows that describe the same case twice, and patients with two first operations on one side.
 *
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
  forEachRepeated(
    cases.rows,
    (row) => keyAt(caseId, row),
    (row, first) => {
      repeated[row] = 1;
      report(isSameRow(cases, row, first) ? "case-repeated" : "case-conflicting", caseId, row, first);
    },
  );
  reportKneesTwice(cases, repeated, report);
}

function reportKneesTwice(
  cases: Cases,
  repeated: Uint8Array,
  report: (code: string, column: Column, row: number, first: number) => void,
): void {
  const patient = columnOfRole(cases, "patientId");
  const side = columnOfRole(cases, "side");
  if (patient === undefined || side?.kind !== "code") return;
  side.codes.forEach((_, code) => {
    const keyOfRow = (row: number) =>
      repeated[row] === 0 && isPresent(side, row) && side.values[row] === code
        ? keyAt(patient, row)
        : undefined;
    forEachRepeated(cases.rows, keyOfRow, (row, first) => report("knee-repeated", patient, row, first));
  });
}

function keyAt(column: Column, row: number): string | number | undefined {
  return isPresent(column, row) ? column.values[row] : undefined;
}

function forEachRepeated(
  rows: number,
  keyOfRow: (row: number) => string | number | undefined,
  visit: (row: number, first: number) => void,
): void {
  const firstOfKey = new Map<string | number, number>();
  for (let row = 0; row < rows; row += 1) {
    const key = keyOfRow(row);
    if (key === undefined) continue;
    const first = firstOfKey.get(key);
    if (first === undefined) firstOfKey.set(key, row);
    else visit(row, first);
  }
}

function isSameRow(cases: Cases, one: number, other: number): boolean {
  return [...cases.columns.values()].every(
    (column) =>
      column.missing[one] === column.missing[other] &&
      (!isPresent(column, one) || column.values[one] === column.values[other]),
  );
}
