import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { DuckDBInstance } from "@duckdb/node-api";
import { type CellObject, utils, type WorkSheet, write } from "@e965/xlsx";
import iconv from "iconv-lite";

/** What a cell holds: null where it is empty, a day as { day: ISO date }. */
export type Cell = string | number | boolean | null | { readonly day: string };
export interface Table {
  readonly header: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

export interface TextForm {
  readonly delimiter: string;
  readonly lineEnd: string;
  readonly decimalChar: string;
  /** From an ISO date to the text of the file. */
  readonly date: (iso: string) => string;
}

const PLAIN: TextForm = { delimiter: ",", lineEnd: "\n", decimalChar: ".", date: (iso) => iso };

/** The table as delimited text, every cell quoted that needs it. */
export function csvText({ header, rows }: Table, form: Partial<TextForm> = {}): string {
  const { delimiter, lineEnd, decimalChar, date } = { ...PLAIN, ...form };
  const written = (cell: Cell): string => {
    if (cell === null) return "";
    if (typeof cell === "object") return date(cell.day);
    return typeof cell === "number" ? String(cell).replace(".", decimalChar) : String(cell);
  };
  const quoted = (text: string) =>
    [delimiter, '"', "\n", "\r"].some((mark) => text.includes(mark))
      ? `"${text.replaceAll('"', '""')}"`
      : text;
  const lines = [header, ...rows.map((row) => row.map(written))].map((cells) =>
    cells.map(quoted).join(delimiter),
  );
  return lines.join(lineEnd) + lineEnd;
}

export function utf16(text: string, order: "little" | "big"): Buffer {
  const bytes = Buffer.from(`\ufeff${text}`, "utf16le");
  return order === "little" ? bytes : bytes.swap16();
}

export function windows1252(text: string): Buffer {
  return iconv.encode(text, "windows-1252");
}

export function gzip(content: string | Buffer): Buffer {
  return gzipSync(content);
}

/** A workbook whose days are cells in a date format; `change` may alter the sheet before it is written. */
export function workbook(
  { header, rows }: Table,
  change: (sheet: WorkSheet) => void = () => undefined,
  { countsFrom1904 = false, before = [] }: { countsFrom1904?: boolean; before?: readonly string[] } = {},
): Buffer {
  const book = utils.book_new();
  for (const name of before) utils.book_append_sheet(book, utils.aoa_to_sheet([["other"], ["sheet"]]), name);
  const sheet = utils.aoa_to_sheet([[...header]]);
  rows.forEach((row, at) => {
    row.forEach((cell, column) => {
      if (cell === null) return;
      sheet[utils.encode_cell({ r: at + 1, c: column })] = sheetCell(cell, countsFrom1904);
    });
  });
  sheet["!ref"] = utils.encode_range({ s: { r: 0, c: 0 }, e: { r: rows.length, c: header.length - 1 } });
  change(sheet);
  utils.book_append_sheet(book, sheet, "cases");
  book.Workbook = { WBProps: { date1904: countsFrom1904 } };
  return write(book, { type: "buffer", bookType: "xlsx" });
}

const DAYS_FROM_1970_TO = { 1900: -25_569, 1904: -24_107 };

function sheetCell(cell: Exclude<Cell, null>, countsFrom1904: boolean): CellObject {
  if (typeof cell === "number") return { t: "n", v: cell };
  if (typeof cell === "boolean") return { t: "b", v: cell };
  if (typeof cell === "string") return { t: "s", v: cell };
  const days = Date.parse(cell.day) / 86_400_000;
  return { t: "n", v: days - DAYS_FROM_1970_TO[countsFrom1904 ? 1904 : 1900], z: "dd.mm.yyyy" };
}

/** A Parquet file of the query's rows, written by a database engine. */
export async function parquetOf(query: string, settings = ""): Promise<Buffer> {
  const folder = mkdtempSync(join(tmpdir(), "parquet-test-"));
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  try {
    const path = join(folder, "table.parquet");
    await connection.run(`COPY (${query}) TO '${path}' (FORMAT parquet${settings})`);
    return readFileSync(path);
  } finally {
    connection.closeSync();
    instance.closeSync();
    rmSync(folder, { recursive: true });
  }
}

/** The table as Parquet, with the type of SQL given for each column. */
export function parquet({ header, rows }: Table, types: readonly string[], settings = ""): Promise<Buffer> {
  const literal = (cell: Cell, type: string) => {
    if (cell === null) return `NULL::${type}`;
    const text = typeof cell === "object" ? cell.day : String(cell);
    return `'${text.replaceAll("'", "''")}'::${type}`;
  };
  const lines = rows.map(
    (row) => `(${row.map((cell, at) => literal(cell, types[at] ?? "VARCHAR")).join(", ")})`,
  );
  const names = header.map((name) => `"${name.replaceAll('"', '""')}"`).join(", ");
  return parquetOf(`SELECT * FROM (VALUES ${lines.join(", ")}) AS t(${names})`, settings);
}
