import { basename } from "node:path";
import type { Column } from "../base/column.ts";
import { type FindingLog, findingLog, joinFindings } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnBuilder } from "./column-builder.ts";
import type { ExportDescriptor, ExportField } from "./descriptor.ts";
import { caseFields, missingValuesOf } from "./descriptor-rules.ts";
import { ExportError } from "./export-error.ts";
import { checkConstraints } from "./field-constraints.ts";
import { withLinkedTables } from "./linkage.ts";
import { type LoadedDescriptor, loadDescriptor } from "./load-descriptor.ts";
import { withMainReasons } from "./main-reasons.ts";
import { reportIdentifiers, reportNamingFile } from "./privacy-gate.ts";
import { renamedColumns } from "./renamed-columns.ts";
import { type FieldRole, isFieldRole } from "./roles.ts";
import { withFiles } from "./tables/joined-table.ts";
import { openTable } from "./tables/open-table.ts";
import type { TableSource } from "./tables/table-source.ts";
import { aboutDescribed, undescribedColumns } from "./undescribed-columns.ts";
import { reportUnits } from "./unit-check.ts";

/**
 * The cases of an export as typed columns, with everything reading found wrong.
 *
 * The table is a delimited file (packed or not), a workbook or a Parquet file, or several files with the same columns;
 * the same table gives the same columns from each.
 * Columns are found by name, in any order; what the dictionary does not describe is reported and left out.
 * A text that is not what its field allows is a finding and counts as missing ("not readable"); nothing is
 * guessed, nothing is dropped. Identifiers are text to the last digit.
 *
 * Throws UsageError where the descriptor or file cannot be opened or the dictionary cannot be used, and ExportError,
 * with all findings, where the file is no sound table or lacks a column.
 *
 * @example
 * const cases = await readCases("data/mgus2/datapackage.json");
 * cases.rows; // 1,384
 */
export async function readCases(descriptorPath: string): Promise<Cases> {
  const loaded = loadDescriptor(descriptorPath);
  return withLinkedTables(loaded, await readTable(loaded), readTable);
}

/** The first table of a descriptor alone, by the same rules. */
export async function readTable(loaded: LoadedDescriptor): Promise<Cases> {
  const { table, files } = await openTable(loaded);
  const headline = "the case file is not a sound table";
  if (table.findings.errors > 0) throw new ExportError(headline, withFiles(table.findings, files));
  const log = findingLog();
  const positions = positionsOfFields(caseFields(loaded.descriptor), table.header, log);
  if (log.findings().errors > 0) {
    const lacks = `${files.map(({ name }) => name).join(", ")}: lacks columns that the dictionary describes`;
    throw new ExportError(lacks, joinFindings(table.findings, log.findings()));
  }
  const written = await readColumns(loaded.descriptor, table, positions, log);
  const { columns, descriptor, ticked } = withMainReasons(loaded.descriptor, written, table.lineOfRow, log);
  for (const { name } of files) reportNamingFile(basename(name), log);
  return {
    rows: table.records,
    columns,
    fieldOfRole: fieldOfRole(descriptor),
    descriptor,
    ...(ticked && { tickedReasons: ticked }),
    source: {
      fileName: files.map(({ name }) => basename(name)).join(", "),
      fileHash: table.fileHash,
      descriptorHash: loaded.hash,
      lineOfRow: table.lineOfRow,
      files,
    },
    findings: withFiles(joinFindings(table.findings, log.findings()), files),
  };
}

async function readColumns(
  descriptor: ExportDescriptor,
  table: TableSource,
  positions: ReadonlyMap<ExportField, number>,
  log: FindingLog,
): Promise<ReadonlyMap<string, Column>> {
  const { records: rows, encoding, lineOfRow } = table;
  const builders = [...positions].map(([field, position]) => {
    const missingValues = missingValuesOf(field, descriptor);
    return { field, builder: columnBuilder({ field, position, rows, encoding, missingValues }) };
  });
  const undescribed = undescribedColumns(table.header, positions.values(), rows);
  const names = builders.map(({ field }) => field.name);
  const takers = [...builders.map(({ builder }) => builder), ...undescribed.takers];
  await table.readCells(takers, aboutDescribed(names, log));
  const columns = new Map<string, Column>();
  for (const { field, builder } of builders) {
    const column = builder.build(log, lineOfRow);
    checkConstraints(field, column, lineOfRow, log);
    if (column.kind === "number") reportUnits(field, column, lineOfRow, log);
    columns.set(field.name, column);
  }
  reportIdentifiers({ fields: [...positions.keys()], columns, undescribed: undescribed.columns }, log);
  return columns;
}

/** Where each field stands in the file, in the order of the file. */
function positionsOfFields(
  fields: readonly ExportField[],
  header: readonly string[],
  log: FindingLog,
): ReadonlyMap<ExportField, number> {
  const lacking = fields.filter(({ name }) => !header.includes(name));
  const others = header.filter((name) => !fields.some((field) => field.name === name));
  const renamed = renamedColumns(lacking, others);
  for (const { name } of lacking) {
    const now = renamed.get(name);
    const details = now === undefined ? undefined : { now, column: header.indexOf(now) + 1 };
    log.add({ code: "column-missing", severity: "error", field: name, ...(details && { details }) });
  }
  const told = [...renamed.values()];
  const positions = new Map<ExportField, number>();
  header.forEach((name, position) => {
    const field = fields.find((each) => each.name === name);
    if (field !== undefined) positions.set(field, position);
    else if (!told.includes(name))
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
