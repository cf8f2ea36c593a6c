import { basename, join } from "node:path";
import type { Column } from "../base/column.ts";
import { type FindingLog, findingLog, joinFindings } from "../base/finding-log.ts";
import { type ByteScan, byteScan } from "./byte-scan.ts";
import type { Cases } from "./cases.ts";
import { readCells } from "./cell-reader.ts";
import { columnBuilder } from "./column-builder.ts";
import type { ExportDescriptor, ExportField } from "./descriptor.ts";
import { caseFields, missingValuesOf } from "./descriptor-rules.ts";
import { ExportError } from "./export-error.ts";
import { checkConstraints } from "./field-constraints.ts";
import { type LoadedDescriptor, loadDescriptor } from "./load-descriptor.ts";
import { type FieldRole, isFieldRole } from "./roles.ts";
import type { ExportEncoding } from "./text-encoding.ts";

/**
 * The cases of an export as typed columns, with everything reading found wrong.
 *
 * Columns are found by name, in any order; what the dictionary does not describe is reported and left out.
 * A text that is not what its field allows is a finding and counts as missing ("not readable"); nothing is
 * guessed, nothing is dropped. Identifiers are text to the last digit.
 *
 * Throws UsageError where the descriptor or file cannot be opened or the dictionary cannot be used, and ExportError,
 * with all findings, where the file is no sound table or lacks a column.
 */
export async function readCases(descriptorPath: string): Promise<Cases> {
  const loaded = loadDescriptor(descriptorPath);
  const { path, encoding, delimiter, quote } = caseFile(loaded);
  const scan = byteScan(path, { delimiter, quote, encoding });
  if (scan.findings.errors > 0) throw new ExportError("the case file is not a sound table", scan.findings);
  const log = findingLog();
  const positions = positionsOfFields(caseFields(loaded.descriptor), scan.header, log);
  if (log.findings().errors > 0) {
    throw new ExportError("the case file lacks columns", joinFindings(scan.findings, log.findings()));
  }
  const columns = readColumns(loaded, scan, positions, log);
  return {
    rows: scan.records,
    columns,
    fieldOfRole: fieldOfRole(loaded.descriptor),
    descriptor: loaded.descriptor,
    source: {
      fileName: basename(path),
      fileHash: scan.fileHash,
      descriptorHash: loaded.hash,
      lineOfRow: scan.lineOfRow,
    },
    findings: joinFindings(scan.findings, log.findings()),
  };
}

function readColumns(
  loaded: LoadedDescriptor,
  scan: ByteScan,
  positions: ReadonlyMap<ExportField, number>,
  log: FindingLog,
): ReadonlyMap<string, Column> {
  const { path, ...dialect } = caseFile(loaded);
  const { encoding } = dialect;
  const builders = [...positions].map(([field, position]) => {
    const missingValues = missingValuesOf(field, loaded.descriptor);
    return {
      field,
      builder: columnBuilder({ field, position, rows: scan.records, encoding, missingValues }),
    };
  });
  const takers = builders.map(({ builder }) => builder);
  readCells(path, scan, takers, dialect);
  const columns = new Map<string, Column>();
  for (const { field, builder } of builders) {
    const column = builder.build(log, scan.lineOfRow);
    checkConstraints(field, column, scan.lineOfRow, log);
    columns.set(field.name, column);
  }
  return columns;
}

function caseFile({ descriptor, folder }: LoadedDescriptor) {
  const resource = descriptor.resources[0];
  if (resource === undefined) throw new Error("a loaded descriptor has a resource");
  const { delimiter = ",", quoteChar = '"' } = resource.dialect ?? {};
  // The descriptor's rules admit these two only.
  const encoding = (resource.encoding ?? "utf-8").toLowerCase() as ExportEncoding;
  return { path: join(folder, resource.path), encoding, delimiter, quote: quoteChar };
}

/** Where each field stands in the file, in the order of the file. */
function positionsOfFields(
  fields: readonly ExportField[],
  header: readonly string[],
  log: FindingLog,
): ReadonlyMap<ExportField, number> {
  for (const { name } of fields) {
    if (!header.includes(name)) log.add({ code: "column-missing", severity: "error", field: name });
  }
  const positions = new Map<ExportField, number>();
  header.forEach((name, position) => {
    const field = fields.find((each) => each.name === name);
    if (field !== undefined) positions.set(field, position);
    else
      log.add({
        code: "column-not-described",
        severity: "warning",
        line: 1,
        details: { column: position + 1 },
      });
  });
  return positions;
}

function fieldOfRole(descriptor: ExportDescriptor): ReadonlyMap<FieldRole, string> {
  const fields = new Map<FieldRole, string>();
  for (const { role, name } of caseFields(descriptor)) {
    if (role !== undefined && isFieldRole(role)) fields.set(role, name);
  }
  return fields;
}
