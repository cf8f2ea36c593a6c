import { contentHash } from "../../base/content-hash.ts";
import { UsageError } from "../../base/errors.ts";
import type { Findings } from "../../base/finding.ts";
import { joinFindings } from "../../base/finding-log.ts";
import { nearestWord } from "../../base/nearest-word.ts";
import { planFaultsText, unknownWord } from "../../base/plan-fault.ts";
import type { Cases } from "../../cases/cases.ts";
import { checkCases } from "../../cases/check-cases.ts";
import type { ExportDescriptor, ExportField } from "../../cases/descriptor.ts";
import { caseFields } from "../../cases/descriptor-rules.ts";
import { linkedResources } from "../../cases/linkage-rules.ts";
import { type LoadedDescriptor, loadDescriptor } from "../../cases/load-descriptor.ts";
import { IDENTIFIER_KINDS } from "../../cases/privacy-kinds.ts";
import type { Pseudonymiser } from "../../cases/pseudonym.ts";
import { readCases } from "../../cases/read-cases.ts";
import { writtenCells } from "../../cases/written-cells.ts";
import { mantleVersion } from "../notebook/mantle-version.ts";
import { refuseErrors } from "../refuse-errors.ts";
import { csvPieces } from "./csv-pieces.ts";
import { type DerivedFollowUp, derivedFollowUp } from "./derived-follow-up.ts";
import { lateRecords, unlessLate } from "./late-records.ts";
import { type LinkedOutput, linkedName, linkedOutputs } from "./linked-output.ts";
import { coarseField, kindOfKey, type OutputField, replacedField } from "./output-fields.ts";

type Resource = ExportDescriptor["resources"][number];

/** What becomes of dates: follow-up is derived and they are dropped, or they are set to the first of their month or year. */
export const DATE_TREATMENTS = ["follow-up", "month", "year"] as const;
export type DateTreatment = (typeof DATE_TREATMENTS)[number];

export interface PseudonymiseOptions {
  /** Fields left out. */
  readonly drop: readonly string[];
  /** Fields replaced besides those with the roles caseId and patientId. */
  readonly replace: readonly string[];
  readonly dates: DateTreatment;
}

export interface PseudonymisedExport {
  /** By name; the table in pieces. */
  readonly files: ReadonlyMap<string, string | Iterable<string>>;
  readonly warnings: readonly string[];
}

const KEY_ROLES: readonly (string | undefined)[] = ["caseId", "patientId"];
const COARSE_WARNING =
  "dates were set to the first of their period: follow-up in whole days is no longer right, and orders of dates within a period are lost";

/**
 * An export in which keys are pseudonyms, listed fields are gone, and no exact date is left.
 *
 * Everything else is handed on as it was written; a text that a spreadsheet would run is guarded, as the dictionary says.
 * Second tables get the pseudonyms of the cases and dates as coarse as theirs; where follow-up is derived they are not
 * written, because what they say of revisions and deaths stands in it. A field that still tells who a person is stops the
 * work, as does any other error of the export. A record of a step that was written down after the revision is left blank where its date is
 * dropped, because nothing would say so any more. Columns that the dictionary does not describe are never written.
 *
 * @throws UsageError `export-has-errors`, `identifiers-left`, `unknown-field`, `linked-key-lost` or `linked-order-lost`.
 */
export async function pseudonymise(
  descriptorPath: string,
  key: Pseudonymiser,
  options: PseudonymiseOptions,
): Promise<PseudonymisedExport> {
  const loaded = loadDescriptor(descriptorPath);
  const cases = await readCases(descriptorPath);
  const fields = caseFields(loaded.descriptor);
  const second = linkedResources(loaded.descriptor);
  requireKnown(fields, second, options);
  const replaced = new Set(
    fields
      .filter(({ role, name }) => KEY_ROLES.includes(role) || options.replace.includes(name))
      .map(({ name }) => name),
  );
  const linked = await linkedTables(loaded, cases, key, replaced, options);
  refuseIdentifiers(joinFindings(cases.findings, checkCases(cases)), [
    ...[...options.drop, ...replaced],
    ...(linked === undefined ? allNames(second) : linked.flatMap(settledNames)),
  ]);
  const written = await writtenCells(loaded);
  const derived = options.dates === "follow-up" ? followUpOf(cases) : undefined;
  const kept = fields.filter(
    (field) => !options.drop.includes(field.name) && !(derived !== undefined && field.type === "date"),
  );
  const blanked = derived === undefined ? new Map<string, number>() : lateRecords(cases, kept);
  const output = kept.map((field): OutputField => {
    if (replaced.has(field.name)) return replacedField(field, kindOfKey(field), cases, written, key);
    if (field.type === "date") return coarseField(field, cases, written, options.dates === "year");
    return { field, cell: unlessLate(cases, field, written.get(field.name) ?? (() => "")) };
  });
  const rows = Array.from({ length: cases.rows }, (_, row) => row).filter(
    (row) => derived === undefined || derived.cells(row) !== undefined,
  );
  const described = [...output.map(({ field }) => field), ...(derived?.fields ?? [])];
  const description = descriptionOf(loaded.descriptor, described, linked ?? []);
  const warnings = [
    ...(options.dates === "follow-up" ? [] : [COARSE_WARNING]),
    ...(linked === undefined && second.length > 0 ? [leftOutWarning(second)] : []),
  ];
  const log = {
    kind: "pseudonymised-export",
    mantleVersion: mantleVersion(),
    source: { table: cases.source.fileHash, descriptor: cases.source.descriptorHash },
    keyCheck: key.keyCheck,
    rows: { read: cases.rows, written: rows.length, leftOut: derived?.leftOut ?? {} },
    secondTables: (linked ?? []).map(({ table, fileName, rows: counts }) => ({
      table,
      fileName,
      rows: counts,
    })),
    secondTablesNotWritten: linked === undefined ? second.map(({ name }) => name) : [],
    replaced: [
      ...[...replaced].filter((name) => !options.drop.includes(name)),
      ...(linked ?? []).flatMap((table) => table.replaced),
    ],
    dropped: [
      ...fields.filter((field) => !kept.includes(field)).map(({ name }) => name),
      ...(linked ?? []).flatMap((table) => table.dropped),
    ],
    coarsened: [
      ...(options.dates === "follow-up" ? [] : kept)
        .filter(({ type, name }) => type === "date" && !replaced.has(name))
        .map(({ name }) => name),
      ...(linked ?? []).flatMap((table) => table.coarsened),
    ],
    dates: options.dates,
    recordsAfterRevisionBlanked: Object.fromEntries(blanked),
    columnsNotDescribed: cases.findings.groups
      .filter(({ code }) => code === "column-not-described")
      .reduce((sum, { count }) => sum + count, 0),
    warnings,
  };
  const json = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`;
  return {
    files: new Map<string, string | Iterable<string>>([
      [
        "cases.csv",
        csvPieces(
          described.map(({ name }) => name),
          rows,
          (row) => [...output.map(({ cell }) => cell(row)), ...(derived?.cells(row) ?? [])],
        ),
      ],
      ...(linked ?? []).map(({ fileName, pieces }): [string, Iterable<string>] => [fileName, pieces]),
      ["datapackage.json", json(description)],
      ["pseudonymise-log.json", json({ ...log, descriptor: contentHash(json(description)) })],
    ]),
    warnings,
  };
}

/** Second tables as they are handed on; undefined where follow-up is derived and they are not. */
async function linkedTables(
  loaded: LoadedDescriptor,
  cases: Cases,
  key: Pseudonymiser,
  replacedInCases: ReadonlySet<string>,
  { drop, replace, dates }: PseudonymiseOptions,
): Promise<readonly LinkedOutput[] | undefined> {
  if (dates === "follow-up") return undefined;
  return linkedOutputs(loaded, cases, key, { drop, replace, dates, replacedInCases });
}

/** A second table's name stands for its file, which gets another name. */
function settledNames({ table, replaced, dropped }: LinkedOutput): readonly string[] {
  return [table, ...replaced, ...dropped];
}

function allNames(tables: readonly Resource[]): readonly string[] {
  return tables.flatMap(({ name, schema }) => [
    name,
    ...schema.fields.map((field) => linkedName(name, field.name)),
  ]);
}

function leftOutWarning(tables: readonly Resource[]): string {
  const names = tables.map(({ name }) => `"${name}"`).join(", ");
  const areFilms = tables.some(({ holds }) => holds === "radiographs");
  return `second tables (${names}) were not written: revisions and deaths stand in the derived follow-up${areFilms ? ", what was seen on radiographs does not" : ""}`;
}

function requireKnown(
  fields: readonly ExportField[],
  second: readonly Resource[],
  { drop, replace }: PseudonymiseOptions,
): void {
  const linked = allNames(second);
  const words = [...fields.map(({ name }) => name), ...linked];
  const of = second.length > 0 ? ", those of a second table as table.field" : "";
  const known = { heading: `Fields of the export${of}`, words };
  const faultsAt = (place: string, names: readonly string[]) =>
    names
      .filter((name) => !words.includes(name))
      .map((written) => {
        const ofTable = words.find((word) => word.endsWith(`.${written}`));
        const nearest = ofTable ?? nearestWord(written, words);
        return unknownWord({
          code: "unknown-field",
          place,
          written,
          is: "is no field of the export",
          known,
          nearest,
        });
      });
  const unknown = [...faultsAt("--drop", drop), ...faultsAt("--replace", replace)];
  if (unknown.length > 0) {
    throw new UsageError("unknown-field", planFaultsText(unknown, "pseudonymise"), unknown);
  }
  const key = fields.find(({ role, name }) => role === "caseId" && drop.includes(name));
  if (key !== undefined)
    throw new UsageError("key-dropped", `"${key.name}" names each case and cannot be dropped`);
}

/** What is left to tell who a person is must go; every other error is the supplier's to correct. */
function refuseIdentifiers(findings: Findings, settled: readonly string[]): void {
  const codes: readonly string[] = [
    ...Object.values(IDENTIFIER_KINDS).map(({ code }) => code),
    "file-name-identifies",
  ];
  const isIdentifier = ({ code }: { code: string }) => codes.includes(code);
  const left = findings.groups.filter(
    (group) => isIdentifier(group) && group.field !== undefined && !settled.includes(group.field),
  );
  const names = [...new Set(left.map(({ field }) => field))];
  if (names.length > 0) {
    throw new UsageError(
      "identifiers-left",
      `${names.join(", ")}: would still tell who a person is; name ${names.length === 1 ? "it" : "them"} under --drop or --replace, ` +
        'or say in the dictionary under "notPersonal" why not',
    );
  }
  const groups = findings.groups.filter((group) => !isIdentifier(group));
  const errors = groups
    .filter(({ severity }) => severity === "error")
    .reduce((sum, { count }) => sum + count, 0);
  refuseErrors({ ...findings, errors, groups });
}

function followUpOf(cases: Cases): DerivedFollowUp | undefined {
  // An export of durations has no follow-up to derive.
  return cases.fieldOfRole.has("operationDate") ? derivedFollowUp(cases) : undefined;
}

function descriptionOf(
  descriptor: ExportDescriptor,
  fields: readonly ExportField[],
  linked: readonly LinkedOutput[],
): ExportDescriptor {
  const [resource] = descriptor.resources;
  const missingValues = resource?.schema.missingValues;
  return {
    ...descriptor,
    name: `${descriptor.name}-pseudonymised`,
    resources: [
      {
        name: resource?.name ?? "cases",
        path: "cases.csv",
        format: "csv",
        encoding: "utf-8",
        textGuard: "apostrophe",
        schema: {
          fields: [...fields],
          ...(missingValues && { missingValues }),
        },
      },
      ...linked.map(({ resource: second }) => second),
    ],
    study: { ...descriptor.study, exactDates: false },
  };
}
