import {
  type AsyncBuffer,
  type FileMetaData,
  parquetMetadataAsync,
  parquetRead,
  type RowGroup,
} from "hyparquet";
import { type FindingLog, findingLog } from "../../base/finding-log.ts";
import type { CellTaker } from "../cell-reader.ts";
import { ExportError } from "../export-error.ts";
import { checkColumnNames } from "../header-fields.ts";
import { fileSlices } from "./file-slices.ts";
import { pageDecompressors } from "./page-decompressors.ts";
import { type ColumnType, columnType, spelledValue } from "./parquet-column.ts";
import { hasSoundPages } from "./sound-pages.ts";
import type { TableSource } from "./table-source.ts";
import { textFeeder } from "./text-feeder.ts";

/** More rows than this no machine holds as columns; a damaged count is met before memory is asked for. */
const MOST_ROWS = 1 << 28;

/**
 * A Parquet file, read one column of one row group at a time.
 *
 * A column of days must be DATE: a timestamp with a zone is another day in another place, and one without may hold a
 * time. Columns that hold lists or records are refused. The file has no lines, so findings name rows alone.
 */
export async function parquetTable(path: string): Promise<TableSource> {
  const { buffer, hash, close } = fileSlices(path);
  try {
    const metadata = await soundMetadata(buffer);
    const log = findingLog();
    const columns = columnsOf(metadata);
    const header = columns.map(({ name }) => name);
    const records = Number(metadata.num_rows);
    checkColumnNames(header, log);
    if (header.length === 0) log.add({ code: "file-empty", severity: "error" });
    else if (records === 0) log.add({ code: "no-records", severity: "error" });
    return {
      header,
      records,
      lineOfRow: new Uint32Array(records),
      fileHash: hash(),
      encoding: "utf-8",
      findings: log.findings(),
      async readCells(takers, cellLog) {
        const open = fileSlices(path);
        try {
          for (const taker of takers) {
            // Positions come from the header.
            await readColumn(open.buffer, metadata, columns[taker.position]!, taker, cellLog);
          }
        } finally {
          open.close();
        }
      },
    };
  } finally {
    close();
  }
}

interface ParquetColumn {
  readonly name: string;
  readonly type: ColumnType;
}

async function soundMetadata(file: AsyncBuffer): Promise<FileMetaData> {
  const metadata = await parquetMetadataAsync(file).catch(() => undefined);
  // The library trusts the counts, which a damaged file need not keep.
  if (metadata === undefined || !isConsistent(metadata)) throw damaged();
  return metadata;
}

function isConsistent({ num_rows: rows, row_groups: groups, schema }: FileMetaData): boolean {
  // In a damaged file any of these may be missing, whatever their type says.
  const counts: unknown[] = [rows, ...(groups ?? []).map((group) => group?.num_rows)];
  if (!counts.every((count) => typeof count === "bigint" && count >= 0n && count <= MOST_ROWS)) return false;
  const sum = groups.reduce((total, group) => total + group.num_rows, 0n);
  const names: unknown[] = schema?.slice(1).map((element) => element?.name) ?? [];
  return (
    rows === sum && schema?.[0]?.num_children !== undefined && names.every((name) => typeof name === "string")
  );
}

/** The children of the root, which are the columns of the table, nested ones included. */
function columnsOf({ schema }: FileMetaData): ParquetColumn[] {
  const columns: ParquetColumn[] = [];
  let at = 1;
  const passOver = (index: number): number => {
    const children = schema[index]?.num_children ?? 0;
    let next = index + 1;
    for (let child = 0; child < children && next < schema.length; child += 1) next = passOver(next);
    return next;
  };
  while (at < schema.length) {
    // The index is below the length.
    const element = schema[at]!;
    columns.push({ name: element.name, type: columnType(element) });
    at = passOver(at);
  }
  return columns;
}

async function readColumn(
  file: AsyncBuffer,
  metadata: FileMetaData,
  { name, type }: ParquetColumn,
  taker: CellTaker,
  log: FindingLog,
): Promise<void> {
  const rows = Number(metadata.num_rows);
  if (type.kind === "refused") {
    log.add({ code: type.code, severity: "error", field: name });
    for (let row = 0; row < rows; row += 1) taker.refuse?.(row);
    return;
  }
  const feed = textFeeder();
  let taken = 0;
  for (const group of metadata.row_groups) {
    const end = taken + Number(group.num_rows);
    if (!(await isSound(file, metadata, group, name))) throw damaged();
    for (const value of await groupValues(file, metadata, name, taken, end)) {
      const text = spelledValue(value, type, taker.spelling);
      if (typeof text === "string") feed(taker, taken, text);
      else {
        taker.refuse?.(taken);
        log.add({ code: text.fault, severity: "error", row: taken + 1, field: name });
      }
      taken += 1;
    }
    if (taken !== end) throw damaged();
  }
}

async function isSound(
  file: AsyncBuffer,
  { schema }: FileMetaData,
  { columns, num_rows }: RowGroup,
  name: string,
): Promise<boolean> {
  if (num_rows === 0n) return true;
  const about = columns?.find((column) => column?.meta_data?.path_in_schema?.[0] === name)?.meta_data;
  const optional = schema.find((element) => element.name === name)?.repetition_type === "OPTIONAL";
  // What a damaged page makes the parser say may hold what stands in the file.
  return (
    about !== undefined && hasSoundPages(file, { about, rows: Number(num_rows), optional }).catch(() => false)
  );
}

/** The values of one column in the rows of one group. */
async function groupValues(
  file: AsyncBuffer,
  metadata: FileMetaData,
  column: string,
  rowStart: number,
  rowEnd: number,
): Promise<unknown[]> {
  const values: unknown[] = [];
  if (rowStart === rowEnd) return values;
  const decoder = new TextDecoder("utf-8", { fatal: true });
  const text = (bytes: Uint8Array | undefined) => (bytes === undefined ? undefined : decoder.decode(bytes));
  try {
    await parquetRead({
      file,
      metadata,
      columns: [column],
      rowStart,
      rowEnd,
      compressors: pageDecompressors,
      geoparquet: false,
      parsers: { dateFromDays: (days) => days, stringFromBytes: text, jsonFromBytes: text },
      onChunk: ({ columnData }) => {
        for (const value of columnData) values.push(value);
      },
    });
  } catch {
    // The library's messages are not shown: they may hold what stands in the file.
    throw damaged();
  }
  return values;
}

function damaged(): ExportError {
  const log = findingLog();
  log.add({ code: "parquet-damaged", severity: "error" });
  return new ExportError("the Parquet file cannot be read", log.findings());
}
