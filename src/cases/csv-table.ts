import { symlinkSync } from "node:fs";
import { join, resolve } from "node:path";
import type { DuckDBConnection, DuckDBMaterializedResult } from "@duckdb/node-api";
import { findingLog } from "../base/finding-log.ts";
import type { ByteScan } from "./byte-scan.ts";
import { quoted } from "./column-sql.ts";
import { ExportError } from "./export-error.ts";
import { copyTexts, numbersOf, wordIndexes } from "./raw-vector.ts";

export interface CsvTableOptions {
  readonly delimiter: string;
  readonly quote: string;
  /** Positions in the header of the columns that are wanted. */
  readonly wanted: readonly number[];
  /** Private folder: whatever does not fit into memory goes there, and nowhere else. */
  readonly scratch: string;
}

/** The texts of a table, asked for by column. Each answer holds one entry a record, in the order of the file. */
export interface CsvTable {
  /** Days since 1970-01-01 and cell status. */
  days(sql: string): Promise<{ values: Int32Array; status: Uint8Array }>;
  numbers(sql: string): Promise<{ values: Float64Array; status: Uint8Array }>;
  /** The different texts of a column in ascending order, and which one each record holds. */
  words(position: number): Promise<{ words: string[]; indexOfRow: Uint8Array | Uint16Array | Uint32Array }>;
  texts(position: number): Promise<string[]>;
}

/** The name of a column inside the table: names of the file could clash there in upper and lower case. */
export function columnName(position: number): string {
  return `c${position}`;
}

/**
 * Reads a scanned CSV file of UTF-8, with one kind of line end, into memory and lends it. All records that the scan
 * counted must arrive.
 */
export async function withCsvTable<Result>(
  path: string,
  scan: ByteScan,
  options: CsvTableOptions,
  use: (table: CsvTable) => Promise<Result>,
): Promise<Result> {
  // Loaded here: a command that reads no cases should not wait for it.
  const { DuckDBInstance } = await import("@duckdb/node-api");
  const instance = await DuckDBInstance.create(":memory:", {
    autoinstall_known_extensions: "false",
    autoload_known_extensions: "false",
    temp_directory: options.scratch,
  });
  try {
    const connection = await instance.connect();
    try {
      await readAll(connection, plainPath(path, options.scratch), scan, options);
      return await use(tableOf(connection, scan.records));
    } finally {
      connection.closeSync();
    }
  } finally {
    instance.closeSync();
  }
}

/** A path with wildcard signs would be read as a pattern for several files. */
function plainPath(path: string, scratch: string): string {
  if (!/[*?[\]{}]/.test(path)) return path;
  const link = join(scratch, "cases-link.csv");
  symlinkSync(resolve(path), link);
  return link;
}

async function readAll(
  connection: DuckDBConnection,
  path: string,
  scan: ByteScan,
  options: CsvTableOptions,
): Promise<void> {
  const wanted = options.wanted.map(
    (position) => `coalesce(${columnName(position)}, '') AS ${columnName(position)}`,
  );
  const sql = `CREATE TEMP TABLE raw AS SELECT ${wanted.join(", ")} FROM read_csv(${readerArguments(path, scan, options)})`;
  let rows: number;
  try {
    await connection.run(sql);
    rows = Number((await connection.runAndReadAll("SELECT count(*) FROM raw")).getRows()[0]?.[0]);
  } catch {
    // The reader's own message quotes the row, so it is not passed on.
    throw notRead("reader-refused", { records: scan.records });
  }
  if (rows !== scan.records) throw notRead("records-lost", { records: scan.records, rows });
}

function notRead(code: string, details: Record<string, number>): ExportError {
  const log = findingLog();
  log.add({ code, severity: "error", details });
  return new ExportError("the case file could not be read as a table", log.findings());
}

function readerArguments(path: string, scan: ByteScan, { delimiter, quote }: CsvTableOptions): string {
  const columns = scan.header.map((_, position) => `${columnName(position)}: 'VARCHAR'`).join(", ");
  return [
    quoted(path),
    "auto_detect = false",
    "header = true",
    `columns = {${columns}}`,
    `delim = ${quoted(delimiter)}`,
    `quote = ${quoted(quote)}`,
    `escape = ${quoted(quote)}`,
    "compression = 'none'",
    "hive_partitioning = false",
    `max_line_size = ${Math.max(2_097_152, 2 * scan.longestRecord)}`,
    // A thread that starts inside a quoted line break can lose its place.
    ...(scan.hasQuotedLineBreaks ? ["parallel = false"] : []),
  ].join(", ");
}

function tableOf(connection: DuckDBConnection, rows: number): CsvTable {
  const valuesAndStatus = async <Values extends Int32Array | Float64Array>(
    sql: string,
    kind: new (length: number) => Values,
  ) => {
    const values = new kind(rows);
    const status = new Uint8Array(rows);
    forEachChunk(await connection.run(sql), (chunk, offset) => {
      values.set(numbersOf(chunk.getColumnVector(0), kind), offset);
      status.set(numbersOf(chunk.getColumnVector(1), Uint8Array), offset);
    });
    return { values, status };
  };
  return {
    days: (sql) => valuesAndStatus(sql, Int32Array),
    numbers: (sql) => valuesAndStatus(sql, Float64Array),
    words: (position) => readWords(connection, columnName(position), rows),
    texts: async (position) => {
      const texts = new Array<string>(rows);
      forEachChunk(await connection.run(`SELECT ${columnName(position)} FROM raw`), (chunk, offset) =>
        copyTexts(chunk.getColumnVector(0), texts, offset),
      );
      return texts;
    },
  };
}

async function readWords(connection: DuckDBConnection, column: string, rows: number) {
  const distinct = `SELECT DISTINCT ${column} FROM raw ORDER BY ${column}`;
  const words: string[] = [];
  forEachChunk(await connection.run(distinct), (chunk, offset) =>
    copyTexts(chunk.getColumnVector(0), words, offset),
  );
  await connection.run(`CREATE TYPE words_${column} AS ENUM (${distinct})`);
  const index = await connection.run(`SELECT CAST(${column} AS words_${column}) FROM raw`);
  const indexOfRow = indexArray(words.length, rows);
  forEachChunk(index, (chunk, offset) => indexOfRow.set(wordIndexes(chunk.getColumnVector(0)), offset));
  return { words, indexOfRow };
}

/** As wide as the reader's own list of words, so that nothing is widened on the way. */
function indexArray(words: number, rows: number): Uint8Array | Uint16Array | Uint32Array {
  if (words <= 0xff) return new Uint8Array(rows);
  return words <= 0xffff ? new Uint16Array(rows) : new Uint32Array(rows);
}

type Chunk = ReturnType<DuckDBMaterializedResult["getChunk"]>;

function forEachChunk(result: DuckDBMaterializedResult, take: (chunk: Chunk, offset: number) => void): void {
  let offset = 0;
  for (let index = 0; index < result.chunkCount; index += 1) {
    const chunk = result.getChunk(index);
    take(chunk, offset);
    offset += chunk.rowCount;
  }
}
