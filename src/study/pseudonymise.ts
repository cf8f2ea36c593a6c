import { contentHash } from "../base/content-hash.ts";
import { dateOfDay } from "../base/day-number.ts";
import { UsageError } from "../base/errors.ts";
import type { Findings } from "../base/finding.ts";
import { joinFindings } from "../base/finding-log.ts";
import { guardedText } from "../base/spreadsheet-text.ts";
import type { Cases } from "../cases/cases.ts";
import { checkCases } from "../cases/check-cases.ts";
import type { ExportDescriptor, ExportField } from "../cases/descriptor.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { loadDescriptor } from "../cases/load-descriptor.ts";
import { IDENTIFIER_KINDS } from "../cases/privacy-kinds.ts";
import type { Pseudonymiser } from "../cases/pseudonym.ts";
import { readCases } from "../cases/read-cases.ts";
import type { TechniqueStep } from "../cases/roles.ts";
import { type WrittenCells, writtenCells } from "../cases/written-cells.ts";
import { stepStates } from "../technique/step-states.ts";
import { type DerivedFollowUp, derivedFollowUp } from "./derived-follow-up.ts";
import { mantleVersion } from "./mantle-version.ts";
import { refuseErrors } from "./refuse-errors.ts";

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
const ROWS_A_PIECE = 5000;

type CellWriter = (row: number) => string;

interface OutputField {
  readonly field: ExportField;
  readonly cell: CellWriter;
}

/**
 * An export in which keys are pseudonyms, listed fields are gone, and no exact date is left.
 *
 * Everything else is handed on as it was written; a text that a spreadsheet would run is guarded, as the dictionary says. A field that still tells who a person is stops the work, as does any
 * other error of the export. A record of a step that was written down after the revision is left blank where its date is
 * dropped, because nothing would say so any more. Columns that the dictionary does not describe are never written.
 *
 * @throws UsageError `export-has-errors`, `identifiers-left` or `unknown-field`.
 */
export async function pseudonymise(
  descriptorPath: string,
  key: Pseudonymiser,
  options: PseudonymiseOptions,
): Promise<PseudonymisedExport> {
  const loaded = loadDescriptor(descriptorPath);
  const cases = await readCases(descriptorPath);
  const fields = caseFields(loaded.descriptor);
  requireKnown(fields, options);
  refuseLinkedDates(cases, options.dates);
  const replaced = new Set(
    fields
      .filter(({ role, name }) => KEY_ROLES.includes(role) || options.replace.includes(name))
      .map(({ name }) => name),
  );
  refuseIdentifiers(joinFindings(cases.findings, checkCases(cases)), [...options.drop, ...replaced]);
  const written = await writtenCells(loaded);
  const derived = options.dates === "follow-up" ? followUpOf(cases) : undefined;
  const kept = fields.filter(
    (field) => !options.drop.includes(field.name) && !(derived !== undefined && field.type === "date"),
  );
  const blanked = derived === undefined ? new Map<string, number>() : lateRecords(cases, kept);
  const output = kept.map((field): OutputField => {
    if (replaced.has(field.name)) return replacedField(field, cases, written, key);
    if (field.type === "date") return coarseField(field, cases, written, options.dates === "year");
    return { field, cell: unlessLate(cases, field, written.get(field.name) ?? (() => "")) };
  });
  const rows = Array.from({ length: cases.rows }, (_, row) => row).filter(
    (row) => derived === undefined || derived.cells(row) !== undefined,
  );
  const description = described(loaded.descriptor, [
    ...output.map(({ field }) => field),
    ...(derived?.fields ?? []),
  ]);
  const warnings = options.dates === "follow-up" ? [] : [COARSE_WARNING];
  const log = {
    kind: "pseudonymised-export",
    mantleVersion: mantleVersion(),
    source: { table: cases.source.fileHash, descriptor: cases.source.descriptorHash },
    keyCheck: key.keyCheck,
    rows: { read: cases.rows, written: rows.length, leftOut: derived?.leftOut ?? {} },
    replaced: [...replaced].filter((name) => !options.drop.includes(name)),
    dropped: fields.filter((field) => !kept.includes(field)).map(({ name }) => name),
    coarsened:
      options.dates === "follow-up" ? [] : kept.filter(({ type }) => type === "date").map(({ name }) => name),
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
      ["cases.csv", csvPieces(output, derived, rows)],
      ["datapackage.json", json(description)],
      ["pseudonymise-log.json", json({ ...log, descriptor: contentHash(json(description)) })],
    ]),
    warnings,
  };
}

function requireKnown(fields: readonly ExportField[], { drop, replace }: PseudonymiseOptions): void {
  for (const name of [...drop, ...replace]) {
    if (fields.some((field) => field.name === name)) continue;
    throw new UsageError("unknown-field", `the export has no field "${name}"; check the spelling`);
  }
  const key = fields.find(({ role, name }) => role === "caseId" && drop.includes(name));
  if (key !== undefined)
    throw new UsageError("key-dropped", `"${key.name}" names each case and cannot be dropped`);
}

/** Second tables are not written; what they say of revisions and deaths lives on in derived follow-up alone. */
function refuseLinkedDates({ linkage = [] }: Cases, dates: DateTreatment): void {
  if (linkage.length === 0 || dates === "follow-up") return;
  const names = linkage.map(({ table }) => table).join(", ");
  throw new UsageError(
    "linked-tables-not-written",
    `the second tables of the export (${names}) are not written, so their dates would be lost; use "--dates follow-up"`,
  );
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

function replacedField(
  field: ExportField,
  cases: Cases,
  written: WrittenCells,
  key: Pseudonymiser,
): OutputField {
  const column = cases.columns.get(field.name);
  const cell = written.get(field.name) ?? (() => "");
  const kind = field.role ?? field.name;
  const { categories: _listed, ...rest } = field;
  return {
    field: { ...rest, type: "string" },
    cell: (row) => (column?.missing[row] === 0 ? key.pseudonym(kind, cell(row)) : cell(row)),
  };
}

function coarseField(field: ExportField, cases: Cases, written: WrittenCells, toYear: boolean): OutputField {
  const column = cases.columns.get(field.name);
  const cell = written.get(field.name) ?? (() => "");
  const { format: _format, constraints, ...rest } = field;
  const { minimum: _minimum, maximum: _maximum, ...kept } = constraints ?? {};
  return {
    field: { ...rest, ...(constraints && { constraints: kept }) },
    cell: (row) => {
      if (column?.kind !== "day" || column.missing[row] !== 0) return cell(row);
      const date = dateOfDay(column.values[row] ?? 0);
      return toYear ? `${date.slice(0, 4)}-01-01` : `${date.slice(0, 7)}-01`;
    },
  };
}

function unlessLate(cases: Cases, field: ExportField, cell: CellWriter): CellWriter {
  const step = stepWithDate(cases, field);
  if (step === undefined) return cell;
  const { late } = stepStates(cases, step);
  return (row) => (late[row] === 1 ? "" : cell(row));
}

function lateRecords(cases: Cases, fields: readonly ExportField[]): ReadonlyMap<string, number> {
  return new Map(
    fields.flatMap((field): [string, number][] => {
      const step = stepWithDate(cases, field);
      return step === undefined ? [] : [[field.name, stepStates(cases, step).lateCount]];
    }),
  );
}

function stepWithDate(cases: Cases, { role = "" }: ExportField): TechniqueStep | undefined {
  const [prefix, step, part] = role.split(":");
  const isStep = prefix === "technique" && part === undefined;
  // The role was checked with the descriptor.
  const named = step as TechniqueStep;
  return isStep && cases.fieldOfRole.has(`technique:${named}:recordedOn`) ? named : undefined;
}

function described(descriptor: ExportDescriptor, fields: readonly ExportField[]): ExportDescriptor {
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
    ],
    study: { ...descriptor.study, exactDates: false },
  };
}

function* csvPieces(
  output: readonly OutputField[],
  derived: DerivedFollowUp | undefined,
  rows: readonly number[],
): Generator<string> {
  const names = [
    ...output.map(({ field }) => field.name),
    ...(derived?.fields.map(({ name }) => name) ?? []),
  ];
  yield `${names.map(csvField).join(",")}\n`;
  for (let start = 0; start < rows.length; start += ROWS_A_PIECE) {
    const lines = rows.slice(start, start + ROWS_A_PIECE).map((row) => {
      const cells = [...output.map(({ cell }) => cell(row)), ...(derived?.cells(row) ?? [])];
      return `${cells.map(csvField).join(",")}\n`;
    });
    yield lines.join("");
  }
}

function csvField(text: string): string {
  const safe = guardedText(text);
  return /[",\r\n]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
