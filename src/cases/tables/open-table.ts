import { join } from "node:path";
import { findingLog } from "../../base/finding-log.ts";
import type { ExportDescriptor, TableFormat } from "../descriptor.ts";
import { pathsOf } from "../descriptor-rules.ts";
import { ExportError } from "../export-error.ts";
import type { LoadedDescriptor } from "../load-descriptor.ts";
import type { StatedEncoding } from "../text-encoding.ts";
import { delimitedTable } from "./delimited-table.ts";
import { type FileKind, fileKind } from "./file-kind.ts";
import { type FilePart, joinedTable, partsOf } from "./joined-table.ts";
import { requireFiles } from "./require-files.ts";
import type { TableSource } from "./table-source.ts";
import { unguardedTable } from "./unguarded-table.ts";

export interface OpenTable {
  readonly table: TableSource;
  readonly files: readonly FilePart[];
}

/** How to read the files of a table; what is left out is the usual. */
export interface TableSettings {
  readonly delimiter?: string | undefined;
  readonly quote?: string | undefined;
  readonly encoding?: string | undefined;
  readonly sheet?: { readonly name?: string | undefined; readonly number?: number | undefined };
  /** What the files are said to be. Default: whatever they are. */
  readonly format?: TableFormat | undefined;
}

/**
 * The case table of a descriptor: one file of any format, or several with the same columns.
 *
 * What a file is shows in its first bytes. The readers of workbooks and column files are loaded when one is met.
 */
export async function openTable({ descriptor, path, folder }: LoadedDescriptor): Promise<OpenTable> {
  const resource = descriptor.resources[0];
  if (resource === undefined) throw new Error("a loaded descriptor has a resource");
  const names = pathsOf(resource.path);
  requireFiles(path, names);
  const open = await openFiles(folder, names, settingsOf(resource));
  return resource.textGuard === undefined ? open : { ...open, table: unguardedTable(open.table) };
}

/** The files as one table. */
export async function openFiles(
  folder: string,
  names: readonly string[],
  settings: TableSettings = {},
): Promise<OpenTable> {
  const parts = [];
  for (const name of names) parts.push({ name, table: await openFile(join(folder, name), settings) });
  return { table: joinedTable(parts), files: partsOf(parts) };
}

function settingsOf({
  dialect = {},
  encoding,
  format,
}: ExportDescriptor["resources"][number]): TableSettings {
  const { delimiter, quoteChar: quote, sheetName, sheetNumber } = dialect;
  return { delimiter, quote, encoding, format, sheet: { name: sheetName, number: sheetNumber } };
}

async function openFile(path: string, settings: TableSettings): Promise<TableSource> {
  const kind = fileKind(path);
  requireFormat(kind, settings.format);
  if (kind === "xlsx") return (await import("./workbook-table.ts")).workbookTable(path, settings.sheet);
  if (kind === "parquet") return (await import("./parquet-table.ts")).parquetTable(path);
  const { delimiter = ",", quote = '"', encoding = "utf-8" } = settings;
  // The descriptor's rules admit stated encodings only.
  return delimitedTable(path, { delimiter, quote, encoding: encoding.toLowerCase() as StatedEncoding });
}

function requireFormat(kind: FileKind, stated: TableFormat | undefined): void {
  if (kind !== "old-workbook" && (stated === undefined || stated === kind)) return;
  const log = findingLog();
  if (kind === "old-workbook") log.add({ code: "workbook-not-xlsx", severity: "error" });
  else
    log.add({
      code: "format-contradicted",
      severity: "error",
      details: { stated: stated ?? "", found: kind },
    });
  throw new ExportError("the case file cannot be read", log.findings());
}
