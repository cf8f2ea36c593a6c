import { UsageError } from "../../base/errors.ts";
import { findingLog } from "../../base/finding-log.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import type { ExportDescriptor, ExportField } from "../../cases/descriptor.ts";
import { caseFields } from "../../cases/descriptor-rules.ts";
import { linkedResources } from "../../cases/linkage-rules.ts";
import { linkedRows, textAt } from "../../cases/linked-rows.ts";
import type { LoadedDescriptor } from "../../cases/load-descriptor.ts";
import type { Pseudonymiser } from "../../cases/pseudonym.ts";
import { readTable } from "../../cases/read-cases.ts";
import { writtenCells } from "../../cases/written-cells.ts";
import { csvPieces } from "./csv-pieces.ts";
import { coarseField, kindOfKey, type OutputField, replacedField } from "./output-fields.ts";

type Resource = ExportDescriptor["resources"][number];

/** A second table as it is handed on. */
export interface LinkedOutput {
  readonly table: string;
  readonly resource: Resource;
  readonly fileName: string;
  readonly pieces: Iterable<string>;
  readonly rows: { readonly read: number; readonly written: number };
  readonly replaced: readonly string[];
  readonly dropped: readonly string[];
  readonly coarsened: readonly string[];
}

export interface LinkedOptions {
  /** Fields as `table.field`. */
  readonly drop: readonly string[];
  readonly replace: readonly string[];
  /** Fields of the cases that become pseudonyms. */
  readonly replacedInCases: ReadonlySet<string>;
  readonly dates: "month" | "year";
}

/** The name of a field of a second table in findings and options. */
export function linkedName(table: string, field: string): string {
  return `${table}.${field}`;
}

/**
 * Second tables with the pseudonyms of the cases in place of their keys, and dates as coarse as those of the cases.
 *
 * Only rows that belong to a case are written: the others are of persons whom nobody asked about.
 *
 * @throws UsageError `linked-key-lost` where a key is dropped or is a date, and `linked-order-lost` where two revisions of a
 * knee for different reasons would fall on one day.
 */
export async function linkedOutputs(
  loaded: LoadedDescriptor,
  cases: Cases,
  key: Pseudonymiser,
  options: LinkedOptions,
): Promise<readonly LinkedOutput[]> {
  const outputs: LinkedOutput[] = [];
  for (const resource of linkedResources(loaded.descriptor)) {
    outputs.push(await linkedOutput(loaded, resource, outputs.length + 1, cases, key, options));
  }
  return outputs;
}

async function linkedOutput(
  loaded: LoadedDescriptor,
  resource: Resource,
  number: number,
  cases: Cases,
  key: Pseudonymiser,
  options: LinkedOptions,
): Promise<LinkedOutput> {
  const { name, holds, schema } = resource;
  const alone = { ...loaded, descriptor: { ...loaded.descriptor, resources: [resource] } };
  const kinds = kindsOfKeys(caseFields(loaded.descriptor), resource, options);
  const table = await readTable(alone);
  const written = await writtenCells(alone);
  const [foreign] = schema.foreignKeys ?? [];
  if (holds === undefined || foreign === undefined) throw new Error("a linked table has a key");
  const keys = { cases: foreign.reference.fields, table: foreign.fields };
  const { caseOfRow } = linkedRows(cases, table, name, holds, keys, findingLog());
  const rows = Array.from(caseOfRow.keys()).filter((row) => (caseOfRow[row] ?? -1) >= 0);
  const kept = schema.fields.filter((field) => !options.drop.includes(linkedName(name, field.name)));
  const output = kept.map((field): OutputField => {
    const kind = kinds.get(field.name);
    if (kind !== undefined) return replacedField(field, kind, table, written, key);
    if (field.type === "date") return coarseField(field, table, written, options.dates === "year");
    return { field, cell: written.get(field.name) ?? (() => "") };
  });
  if (holds === "revisions") requireOrder(name, table, caseOfRow, output);
  const fileName = `linked-${number}-${name.toLowerCase().replace(/[^a-z0-9]+/g, "-")}.csv`;
  const names = output.map(({ field }) => field.name);
  const named = (fields: readonly ExportField[]) => fields.map((field) => linkedName(name, field.name));
  return {
    table: name,
    fileName,
    pieces: csvPieces(names, rows, (row) => output.map(({ cell }) => cell(row))),
    resource: {
      name,
      path: fileName,
      holds,
      format: "csv",
      encoding: "utf-8",
      textGuard: "apostrophe",
      schema: { ...schema, fields: output.map(({ field }) => field) },
    },
    rows: { read: table.rows, written: rows.length },
    replaced: named(kept.filter((field) => kinds.has(field.name))),
    dropped: named(schema.fields.filter((field) => !kept.includes(field))),
    coarsened: named(kept.filter((field) => field.type === "date" && !kinds.has(field.name))),
  };
}

/** Which fields of a second table become pseudonyms, and of what: a key gets those of the field that it names. */
function kindsOfKeys(
  fieldsOfCases: readonly ExportField[],
  { name, schema }: Resource,
  { drop, replace, replacedInCases }: LinkedOptions,
): ReadonlyMap<string, string> {
  const kinds = new Map<string, string>();
  for (const field of schema.fields) {
    const isKey = field.role === "caseId" || field.role === "patientId";
    if (isKey || replace.includes(linkedName(name, field.name))) kinds.set(field.name, kindOfKey(field));
  }
  const [foreign] = schema.foreignKeys ?? [];
  foreign?.fields.forEach((own, at) => {
    const meant = fieldsOfCases.find((field) => field.name === foreign.reference.fields[at]);
    if (meant === undefined) return;
    const isLost = drop.includes(linkedName(name, own)) || drop.includes(meant.name) || meant.type === "date";
    if (isLost) {
      throw new UsageError(
        "linked-key-lost",
        `${linkedName(name, own)}: ties the table "${name}" to the cases and must be kept as it is or replaced; ` +
          'take it out of --drop, link by another field, or use "--dates follow-up", which needs no second table',
      );
    }
    if (replacedInCases.has(meant.name)) kinds.set(own, kindOfKey(meant));
    else kinds.delete(own);
  });
  return kinds;
}

/** Two revisions of a knee on one day for different reasons contradict each other when they are read again. */
function requireOrder(
  name: string,
  table: Cases,
  caseOfRow: Int32Array,
  output: readonly OutputField[],
): void {
  const date = output.find(({ field }) => field.role === "revisionDate");
  const reason = columnOfRole(table, "revisionReason");
  if (date === undefined || reason === undefined) return;
  const reasonOfDay = new Map<string, string>();
  let contradicting = 0;
  caseOfRow.forEach((caseRow, row) => {
    if (caseRow < 0) return;
    const day = `${caseRow} ${date.cell(row)}`;
    const given = reason.missing[row] === 0 ? textAt(reason, row) : "";
    if ((reasonOfDay.get(day) ?? given) !== given) contradicting += 1;
    reasonOfDay.set(day, given);
  });
  if (contradicting === 0) return;
  throw new UsageError(
    "linked-order-lost",
    `${name}: ${contradicting} ${contradicting === 1 ? "revision has" : "revisions have"} an earlier one of the same knee in the same period for another reason, ` +
      'so which came first would be lost; use finer dates or "--dates follow-up"',
  );
}
