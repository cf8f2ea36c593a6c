import { symlinkSync } from "node:fs";
import { join, resolve } from "node:path";
import type { DuckDBConnection, DuckDBMaterializedResult, DuckDBVector } from "@duckdb/node-api";
import { findingLog } from "../base/finding-log.ts";
import type { ByteScan } from "./byte-scan.ts";
import { type ColumnSql, columnName, parsedName, quoted } from "./column-sql.ts";
import { ExportError } from "./export-error.ts";

/** Asks for what it wants of one column, and takes it vector by vector in the order of the file. */
export interface ColumnTaker {
  /** Place of the column in the header, from 0. */
  readonly position: number;
  readonly sql: ColumnSql;
  /** One vector for each of the answers asked for; `offset` is the row of their first entry. */
  take(vectors: readonly DuckDBVector[], offset: number): void;
}

export interface CsvTableOptions {
  readonly delimiter: string;
  readonly quote: string;
  /** Private folder: whatever does not fit into memory goes there, and nowhere else. */
  readonly scratch: string;
}

/**
 * Hands the columns of a scanned CSV file to their takers. The file is UTF-8 with one kind of line end.
 *
 * All records that the scan counted must arrive, else nothing is handed on and an ExportError says so.
 */
export async function readCsvTable(
  path: string,
  scan: ByteScan,
  takers: readonly ColumnTaker[],
  options: CsvTableOptions,
): Promise<void> {
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
      const sql = querySql(plainPath(path, options.scratch), scan, takers, options);
      handOut(await runQuery(connection, sql, scan.records), takers);
    } finally {
      connection.closeSync();
    }
  } finally {
    instance.closeSync();
  }
}

async function runQuery(
  connection: DuckDBConnection,
  sql: string,
  records: number,
): Promise<DuckDBMaterializedResult> {
  let result: DuckDBMaterializedResult;
  try {
    // Never streamed: a stream that meets an error ends as if the file had ended there.
    result = await connection.run(sql);
  } catch {
    // The reader's own message quotes the row, so it is not passed on.
    throw notRead("reader-refused", { records });
  }
  if (result.rowCount !== records) throw notRead("records-lost", { records, rows: result.rowCount });
  return result;
}

function notRead(code: string, details: Record<string, number>): ExportError {
  const log = findingLog();
  log.add({ code, severity: "error", details });
  return new ExportError("the case file could not be read as a table", log.findings());
}

function querySql(
  path: string,
  scan: ByteScan,
  takers: readonly ColumnTaker[],
  options: CsvTableOptions,
): string {
  const answers = takers.flatMap(({ sql }) => sql.answers).map((answer, index) => `${answer} AS a${index}`);
  const parsed = takers
    .filter(({ sql }) => sql.parsed !== undefined)
    .map(({ position, sql }) => `${sql.parsed} AS ${parsedName(position)}`);
  // An empty cell must arrive as an empty text; the reader makes it null.
  const texts = takers.map(
    ({ position }) => `coalesce(${columnName(position)}, '') AS ${columnName(position)}`,
  );
  return `SELECT ${answers.join(",\n")}
    FROM (SELECT ${["*", ...parsed].join(",\n")}
    FROM (SELECT ${texts.join(", ")}
    FROM read_csv(${readerArguments(path, scan, options)})))`;
}

/** A path with wildcard signs would be read as a pattern for several files. */
function plainPath(path: string, scratch: string): string {
  if (!/[*?[\]{}]/.test(path)) return path;
  const link = join(scratch, "cases-link.csv");
  symlinkSync(resolve(path), link);
  return link;
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

function handOut(result: DuckDBMaterializedResult, takers: readonly ColumnTaker[]): void {
  let offset = 0;
  for (let index = 0; index < result.chunkCount; index += 1) {
    const chunk = result.getChunk(index);
    let answer = 0;
    for (const taker of takers) {
      taker.take(
        taker.sql.answers.map((_, place) => chunk.getColumnVector(answer + place)),
        offset,
      );
      answer += taker.sql.answers.length;
    }
    offset += chunk.rowCount;
  }
}
