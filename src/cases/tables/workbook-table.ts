import { readFileSync } from "node:fs";
import { type CellObject, read, type WorkBook, type WorkSheet } from "@e965/xlsx";
import { contentHash } from "../../base/content-hash.ts";
import type { Finding } from "../../base/finding.ts";
import { type FindingLog, findingLog } from "../../base/finding-log.ts";
import type { CellTaker } from "../cell-reader.ts";
import { ExportError } from "../export-error.ts";
import { checkColumnNames } from "../header-fields.ts";
import { type SheetCell, sheetCell } from "./sheet-cell.ts";
import type { TableSource } from "./table-source.ts";
import { textFeeder } from "./text-feeder.ts";
import { isWholeArchive } from "./zip-archive.ts";
import { zipSizes } from "./zip-sizes.ts";

/** Beyond these a workbook takes more memory than its table is worth; as CSV it is read in chunks. */
const MOST_PACKED_BYTES = 100_000_000;
const MOST_UNPACKED_BYTES = 400_000_000;

export interface SheetChoice {
  readonly name?: string | undefined;
  /** Counted from 1. */
  readonly number?: number | undefined;
}

/**
 * A sheet of a workbook: column names in its first row, one record in each row below.
 *
 * Only what a cell holds is read, never how it looks, with two exceptions: a number in a date format is a day, and the
 * zeros that a format of zeros puts before a code belong to it. Merged cells, error cells and formulas without a value
 * are refused by cell.
 */
export function workbookTable(path: string, choice: SheetChoice = {}): TableSource {
  const bytes = soundWorkbook(path);
  const { sheet, countsFrom1904 } = chosenSheet(bytes, choice);
  const log = findingLog();
  const rows = sheet["!data"] ?? [];
  const header = headerOf(rows[0] ?? [], log);
  const merged = mergedCells(sheet);
  reportMergedHeader(merged, header.length, log);
  const { lineOfRow, filled } = recordRows(rows, header.length, log);
  reportHiddenRows(sheet, filled, log);
  if (log.findings().errors === 0 && filled.length === 0) log.add({ code: "no-records", severity: "error" });
  return {
    header,
    records: filled.length,
    lineOfRow,
    fileHash: contentHash(bytes),
    encoding: "utf-8",
    findings: log.findings(),
    readCells(takers, cellLog) {
      const feed = textFeeder();
      const faults = faultLog(cellLog, header, lineOfRow);
      for (const taker of takers) {
        filled.forEach((sheetRow, row) => {
          const cell = rows[sheetRow]?.[taker.position];
          const isMerged = merged.has(cellKey(sheetRow, taker.position));
          const content = sheetCell(cell, isMerged, countsFrom1904, taker.spelling);
          handOn(content, taker, row, feed, faults);
        });
      }
    },
  };
}

function handOn(
  content: SheetCell,
  taker: CellTaker,
  row: number,
  feed: ReturnType<typeof textFeeder>,
  report: (code: string, row: number, column: number) => void,
): void {
  if (typeof content === "string") feed(taker, row, content);
  else {
    taker.refuse?.(row);
    report(content.fault, row, taker.position);
  }
}

function faultLog(log: FindingLog, header: readonly string[], lineOfRow: Uint32Array) {
  return (code: string, row: number, column: number) => {
    const field = header[column] ?? "";
    log.add({ code, severity: "error", row: row + 1, line: lineOfRow[row] ?? 0, field });
  };
}

function soundWorkbook(path: string): Buffer {
  const sizes = zipSizes(path);
  if (sizes === undefined) throw refusal({ code: "workbook-damaged", severity: "error" });
  if (sizes.packed > MOST_PACKED_BYTES || sizes.largestUnpacked > MOST_UNPACKED_BYTES) {
    throw refusal({
      code: "workbook-too-large",
      severity: "error",
      details: { megabytes: MOST_PACKED_BYTES / 1e6, unpacked: MOST_UNPACKED_BYTES / 1e6 },
    });
  }
  const bytes = readFileSync(path);
  if (!isWholeArchive(bytes)) throw refusal({ code: "workbook-damaged", severity: "error" });
  return bytes;
}

function chosenSheet(bytes: Buffer, { name, number = 1 }: SheetChoice) {
  const names = opened(bytes, { bookSheets: true }).SheetNames;
  const at = name === undefined ? number - 1 : names.indexOf(name);
  if (names[at] === undefined) {
    throw refusal({ code: "sheet-missing", severity: "error", details: { sheets: names.length } });
  }
  // Styles tell dates from amounts and show which rows are hidden.
  const book = opened(bytes, {
    sheets: at,
    dense: true,
    cellNF: true,
    cellStyles: true,
    cellText: false,
    cellHTML: false,
  });
  const sheet = book.Sheets[names[at]];
  if (sheet === undefined) throw refusal({ code: "workbook-damaged", severity: "error" });
  return { sheet, countsFrom1904: book.Workbook?.WBProps?.date1904 === true };
}

function opened(bytes: Buffer, options: Parameters<typeof read>[1]): WorkBook {
  try {
    const book = read(bytes, { ...options, type: "buffer", cellDates: false });
    if (Array.isArray(book.SheetNames)) return book;
  } catch {
    // Messages of the library may hold what stands in a cell.
  }
  throw refusal({ code: "workbook-damaged", severity: "error" });
}

type SheetRow = readonly (CellObject | undefined)[];

function headerOf(row: SheetRow, log: FindingLog): string[] {
  const cells = Array.from(row, (cell) => sheetCell(cell, false, false));
  const names = cells.map((name) => (typeof name === "string" ? name : ""));
  while (names.at(-1) === "") names.pop();
  if (names.length === 0) log.add({ code: "file-empty", severity: "error" });
  checkColumnNames(names, log);
  return names;
}

/** The rows of the sheet that are records, from 0, and where each stands, from 1. Blank rows are none. */
function recordRows(rows: readonly (SheetRow | undefined)[], width: number, log: FindingLog) {
  const filled: number[] = [];
  let blank: number[] = [];
  for (let at = 1; at < rows.length; at += 1) {
    const row = rows[at] ?? [];
    if (!row.some(isFilled)) {
      blank.push(at);
      continue;
    }
    // Blank rows below the last record are no gap.
    for (const gap of blank) log.add({ code: "blank-line", severity: "warning", line: gap + 1 });
    blank = [];
    filled.push(at);
    if (row.slice(width).some(isFilled)) {
      log.add({ code: "cell-outside-table", severity: "error", row: filled.length, line: at + 1 });
    }
  }
  return { filled, lineOfRow: Uint32Array.from(filled, (at) => at + 1) };
}

function isFilled(cell: CellObject | undefined): boolean {
  return (
    cell !== undefined && cell.t !== "z" && (cell.f !== undefined || (cell.v !== undefined && cell.v !== ""))
  );
}

const COLUMNS_OF_A_SHEET = 1 << 14;

function cellKey(row: number, column: number): number {
  return row * COLUMNS_OF_A_SHEET + column;
}

/** Every cell of a merged range: the first holds what was written, and for how many of the others nobody knows. */
function mergedCells(sheet: WorkSheet): ReadonlySet<number> {
  const cells = new Set<number>();
  const lastRow = (sheet["!data"]?.length ?? 0) - 1;
  for (const { s: first, e: last } of sheet["!merges"] ?? []) {
    for (let row = first.r; row <= Math.min(last.r, lastRow); row += 1) {
      for (let column = first.c; column <= last.c; column += 1) cells.add(cellKey(row, column));
    }
  }
  return cells;
}

function reportMergedHeader(merged: ReadonlySet<number>, width: number, log: FindingLog): void {
  for (let column = 0; column < width; column += 1) {
    if (!merged.has(cellKey(0, column))) continue;
    log.add({ code: "header-merged", severity: "error", line: 1, details: { column: column + 1 } });
  }
}

function reportHiddenRows(sheet: WorkSheet, filled: readonly number[], log: FindingLog): void {
  const hidden = filled.filter((row) => sheet["!rows"]?.[row]?.hidden === true).length;
  if (hidden > 0) log.add({ code: "rows-hidden", severity: "warning", details: { hidden } });
}

function refusal(finding: Finding): ExportError {
  const log = findingLog();
  log.add(finding);
  return new ExportError("the workbook cannot be read as a table", log.findings());
}
