import { type Column, isPresent } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import type { LinkedKind } from "./linkage-rules.ts";

/** How the rows of a second table met the cases. Every row is counted once. */
export interface LinkageCounts {
  readonly table: string;
  readonly holds: LinkedKind;
  readonly rows: number;
  readonly matched: number;
  /** No case has the key. */
  readonly unmatched: number;
  /** Several cases have it, and nothing says which is meant. */
  readonly ambiguous: number;
  /** The side, or another row for the same case, says something else. */
  readonly conflicting: number;
  readonly withoutKey: number;
}

export interface LinkedRows {
  readonly counts: LinkageCounts;
  /** For each case the one row of the second table that counts, or −1. Never more than one: nothing is multiplied. */
  readonly rowOfCase: Int32Array;
  /** For each row of the second table the first case that it belongs to, or −1. */
  readonly caseOfRow: Int32Array;
}

const DATE_OF = { revisions: "revisionDate", deaths: "deathDate", radiographs: "radiographDate" } as const;
const SEVERITY_OF_UNMATCHED = { revisions: "error", deaths: "warning", radiographs: "warning" } as const;

/**
 * Gives each row of a second table to its case.
 *
 * A key that several cases have (both knees of a patient) is settled by the side where both tables state it; a death is
 * that of all the patient's knees. Of several radiographs of a knee the last counts, of several revisions the first; two
 * on one day for different reasons, or two days of death, contradict each other and are errors, as is the revision of a
 * knee that is not among the cases.
 */
export function linkedRows(
  cases: Cases,
  table: Cases,
  name: string,
  holds: LinkedKind,
  keys: { readonly cases: readonly string[]; readonly table: readonly string[] },
  log: FindingLog,
): LinkedRows {
  const rowsOfKey = casesByKey(cases, keys.cases);
  const keyOf = keyReader(table, keys.table);
  const sides = sideReaders(cases, table);
  const rowOfCase = new Int32Array(cases.rows).fill(-1);
  const caseOfRow = new Int32Array(table.rows).fill(-1);
  const compare = rowComparison(table, holds);
  const counts = { matched: 0, unmatched: 0, ambiguous: 0, conflicting: 0, withoutKey: 0 };
  const report = (code: string, severity: "error" | "warning", row: number) =>
    log.add({ code, severity, row: row + 1, line: table.source.lineOfRow[row] ?? 0, field: name });
  for (let row = 0; row < table.rows; row += 1) {
    const key = keyOf(row);
    const sharing = key === undefined ? [] : (rowsOfKey.get(key) ?? []);
    const fitting = sharing.filter((caseRow) => sides.agree(caseRow, row));
    const meant = holds === "deaths" ? sharing : sharing.length > 1 ? fitting : sharing;
    if (key === undefined) {
      counts.withoutKey += 1;
      report("link-key-missing", "warning", row);
    } else if (sharing.length === 0) {
      counts.unmatched += 1;
      report(
        holds === "revisions" ? "revision-of-unknown-knee" : "link-unmatched",
        SEVERITY_OF_UNMATCHED[holds],
        row,
      );
    } else if (holds !== "deaths" && fitting.length === 0) {
      counts.conflicting += 1;
      report("link-side-conflicts", "error", row);
    } else if (holds !== "deaths" && meant.length > 1) {
      counts.ambiguous += 1;
      report("link-ambiguous", holds === "revisions" ? "error" : "warning", row);
    } else {
      const others = meant.map((caseRow) => rowOfCase[caseRow] ?? -1).filter((other) => other >= 0);
      if (others.some((other) => compare(row, other) === "conflict")) {
        counts.conflicting += 1;
        report("link-rows-conflict", "error", row);
        continue;
      }
      counts.matched += 1;
      caseOfRow[row] = meant[0] ?? -1;
      for (const caseRow of meant) {
        const other = rowOfCase[caseRow] ?? -1;
        if (other < 0 || compare(row, other) === "counts") rowOfCase[caseRow] = row;
      }
    }
  }
  return { counts: { table: name, holds, rows: table.rows, ...counts }, rowOfCase, caseOfRow };
}

function casesByKey(cases: Cases, fields: readonly string[]): ReadonlyMap<string, readonly number[]> {
  const keyOf = keyReader(cases, fields);
  const rows = new Map<string, number[]>();
  for (let row = 0; row < cases.rows; row += 1) {
    const key = keyOf(row);
    if (key === undefined) continue;
    const sharing = rows.get(key);
    if (sharing === undefined) rows.set(key, [row]);
    else sharing.push(row);
  }
  return rows;
}

/** The key of a row as text, or undefined where a part of it is missing. */
function keyReader(cases: Cases, fields: readonly string[]): (row: number) => string | undefined {
  const columns = fields.map((name) => cases.columns.get(name)).filter((column) => column !== undefined);
  return (row) =>
    columns.every((column) => isPresent(column, row))
      ? columns.map((column) => textAt(column, row)).join("\u0000")
      : undefined;
}

/** What a cell says, in the words of its file. */
export function textAt(column: Column, row: number): string {
  if (column.kind === "code") return column.codes[column.values[row] ?? 0] ?? "";
  return String(column.values[row] ?? "");
}

function sideReaders(cases: Cases, table: Cases) {
  const ofCase = columnOfRole(cases, "side");
  const ofRow = columnOfRole(table, "revisionSide") ?? columnOfRole(table, "side");
  const word = (column: Column, row: number) => textAt(column, row).trim().toLowerCase();
  return {
    agree: (caseRow: number, row: number) =>
      ofCase === undefined ||
      ofRow === undefined ||
      !isPresent(ofCase, caseRow) ||
      !isPresent(ofRow, row) ||
      word(ofCase, caseRow) === word(ofRow, row),
  };
}

/** Whether a row counts in place of another of the same case, does not, or contradicts it. */
function rowComparison(
  table: Cases,
  holds: LinkedKind,
): (row: number, other: number) => "counts" | "stands back" | "conflict" {
  const date = columnOfRole(table, DATE_OF[holds]);
  const reason = columnOfRole(table, "revisionReason");
  const dayOf = (row: number) =>
    date?.kind === "day" && isPresent(date, row) ? (date.values[row] ?? Infinity) : Infinity;
  const reasonOf = (row: number) =>
    reason !== undefined && isPresent(reason, row) ? textAt(reason, row) : undefined;
  return (row, other) => {
    const [day, otherDay] = [dayOf(row), dayOf(other)];
    if (holds === "deaths") return day === otherDay ? "stands back" : "conflict";
    if (holds === "radiographs") {
      return day !== Infinity && (otherDay === Infinity || day > otherDay) ? "counts" : "stands back";
    }
    if (holds === "revisions" && day === otherDay && reasonOf(row) !== reasonOf(other)) return "conflict";
    return day < otherDay ? "counts" : "stands back";
  };
}
