import type { Column } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import { type RowCodes, rowCodes } from "./row-codes.ts";

/** Fewer rows can lack a value by chance. */
const FEWEST_ROWS = 20;
/** A field that others hardly fill either is not one surgeon's habit. */
const LEAST_SHARE_OF_OTHERS = 0.5;

/** Filled only where something happened, so that an empty one says nothing about recording. */
const HAPPENINGS = /^(revision|loosened|death|emigration|entry)|:recordedOn$/;

/**
 * Fields that one surgeon, or one centre, never fills, though the others do.
 *
 * The missing values then hang together with who operated: leaving the rows out leaves the surgeon out. The finding
 * counts surgeons and names none. Limits by judgement, no source.
 */
export function reportNeverFilled(cases: Cases, log: FindingLog): void {
  const roleOfField = new Map([...cases.fieldOfRole].map(([role, field]) => [field, role]));
  for (const [who, code] of [
    ["surgeon", "surgeon-never-fills"],
    ["centre", "centre-never-fills"],
  ] as const) {
    const owners = columnOfRole(cases, who);
    if (owners === undefined) continue;
    const codes = rowCodes(owners);
    const rowsOf = countRows(codes);
    for (const column of cases.columns.values()) {
      if (column === owners || HAPPENINGS.test(roleOfField.get(column.field) ?? "")) continue;
      const found = neverFilling(column, codes, rowsOf);
      if (found === undefined) continue;
      const { owners: never, rows, first } = found;
      const details = { never, rows, firstRow: first + 1 };
      log.add({ code, severity: "warning", field: column.field, details });
    }
  }
}

interface NeverFilled {
  readonly owners: number;
  readonly rows: number;
  readonly first: number;
}

function neverFilling(
  { missing }: Column,
  { codes, count }: RowCodes,
  rowsOf: Int32Array,
): NeverFilled | undefined {
  const isUnfilled = Uint8Array.from(rowsOf, (rows) => (rows >= FEWEST_ROWS ? 1 : 0));
  let owners = isUnfilled.reduce((sum, each) => sum + each, 0);
  // In most fields everybody is found to fill it within a few rows.
  for (let row = 0; row < missing.length && owners > 0; row += 1) {
    // Codes are below their count.
    if (missing[row] !== 0 || isUnfilled[codes[row]!] === 0) continue;
    isUnfilled[codes[row]!] = 0;
    owners -= 1;
  }
  if (owners === 0) return undefined;
  let rows = 0;
  for (let owner = 0; owner < count; owner += 1) rows += isUnfilled[owner] === 1 ? rowsOf[owner]! : 0;
  const filled = missing.reduce((sum, reason) => sum + (reason === 0 ? 1 : 0), 0);
  const others = missing.length - rows;
  if (others === 0 || filled < LEAST_SHARE_OF_OTHERS * others) return undefined;
  return { owners, rows, first: codes.findIndex((owner) => isUnfilled[owner] === 1) };
}

function countRows({ codes, count }: RowCodes): Int32Array {
  const rowsOf = new Int32Array(count);
  for (const owner of codes) rowsOf[owner]! += 1;
  return rowsOf;
}
