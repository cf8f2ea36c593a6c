import { basename } from "node:path";
import { UsageError } from "../../base/errors.ts";
import type { Findings } from "../../base/finding.ts";
import { findingLog } from "../../base/finding-log.ts";
import type { CellTaker } from "../cell-reader.ts";
import { reportIdentifiersInWords, reportNamingFile } from "../privacy-gate.ts";
import type { FieldRole } from "../roles.ts";
import type { FileKind } from "../tables/file-kind.ts";
import type { TableSettings } from "../tables/open-table.ts";
import { type WordCollector, wordCollector } from "../word-collector.ts";
import { cellShape } from "./cell-shape.ts";
import { type ColumnProfiler, columnProfiler } from "./column-profile.ts";
import { dateOrder } from "./date-order.ts";
import { type FieldProposal, fieldProposal } from "./field-proposal.ts";
import { foundTable } from "./found-table.ts";
import { roleGuesses } from "./role-guess.ts";
import { studyProposal } from "./study-proposal.ts";
import { typeGuess } from "./type-guess.ts";

/** A dictionary for files that nobody has described. */
export interface Proposal {
  readonly kind: "proposal";
  readonly rows: number;
  /** To be written as datapackage.json; "?" stands where a person must decide. */
  readonly descriptor: Readonly<Record<string, unknown>>;
  /** Why the files are read as they are. */
  readonly evidence: readonly string[];
  readonly fields: readonly FieldProposal[];
  /** What the descriptor leaves open beside its fields. */
  readonly open: readonly string[];
  /** What reading the cells found. */
  readonly findings: Findings;
}

/**
 * Proposes the dictionary of an export from all of its rows.
 *
 * Delimiter, encoding, types and roles are guessed, each with its evidence; what the file does not decide is left open
 * as "?", which no reading accepts. The proposal holds names of columns, counts, and words that many rows share; never
 * an identifier, a date or another text of a single row. Columns that tell who a person is are errors among the
 * findings, and nothing is said about their values. Throws ExportError where no sound table can be made out.
 */
export async function proposeDictionary(folder: string, names: readonly string[]): Promise<Proposal> {
  const { open: table, kind, settings, evidence } = await foundTable(folder, names);
  const { header, records } = table.table;
  requireNames(header);
  const profilers = header.map(columnProfiler);
  const collectors = header.map(() => wordCollector(records));
  const log = findingLog();
  await table.table.readCells(
    profilers.map((profiler, at) => bothTake(profiler, collectors[at])),
    log,
  );
  const profiles = profilers.map((profiler) => profiler.profile());
  const order = dateOrder(profiles);
  const columns = profiles.map((profile) => ({ profile, type: typeGuess(profile, order) }));
  const roles = roleGuesses(columns);
  const identifying = reportIdentifiersInWords(
    collectors.map(({ collected }, at) => ({ name: header[at] ?? "", role: roles[at]?.role, collected })),
    log,
  );
  for (const name of names) reportNamingFile(basename(name), log);
  const fields = columns.map((column, at) => {
    const guess = roles[at] ?? { role: undefined, evidence: [], open: [] };
    return identifying.has(column.profile.name)
      ? identifyingField(column.profile.name, guess.role)
      : fieldProposal(column, guess);
  });
  const { study, open } = studyProposal(fields);
  const namesPerson = log.findings().groups.some(({ code }) => code === "file-name-identifies");
  const title = namesPerson ? "export" : basename(names[0] ?? "export").replace(/\.[^.]*$/, "");
  return {
    kind: "proposal",
    rows: records,
    descriptor: {
      $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
      name: title.toLowerCase().replace(/[^a-z0-9]+/g, "-") || "export",
      title,
      resources: [
        {
          name: "cases",
          path: names.length === 1 ? names[0] : names,
          ...resourceKeys(kind, settings),
          schema: { fields: fields.map(({ field }) => field) },
        },
      ],
      study,
    },
    evidence,
    fields,
    open,
    findings: log.findings(),
  };
}

function resourceKeys(kind: FileKind, { delimiter, quote, encoding }: TableSettings) {
  if (kind !== "csv") return { format: kind };
  return { format: "csv", encoding, dialect: { delimiter, quoteChar: quote } };
}

/** What tells who a person is: nothing of its values is shown, and as text they can be read, dropped or replaced. */
function identifyingField(name: string, role: FieldRole | undefined): FieldProposal {
  const isKey = role === "caseId" || role === "patientId";
  return {
    field: { name, ...(isKey && { role }), type: "string" },
    evidence: ["seems to tell who a person is, so nothing is said about its values"],
    open: [],
  };
}

function bothTake(profiler: ColumnProfiler, collector: WordCollector | undefined): CellTaker {
  return {
    ...profiler,
    take: (row, cells, start, end) => {
      profiler.take(row, cells, start, end);
      collector?.take(row, cells, start, end);
    },
    refuse: (row) => {
      profiler.refuse?.(row);
      collector?.skip(row);
    },
  };
}

/** A first row of dates and numbers is a record: naming columns after it would print a patient. */
function requireNames(header: readonly string[]): void {
  const at = header.findIndex((name) => !["text", "missingWord"].includes(cellShape(name)));
  if (at < 0) return;
  throw new UsageError(
    "header-looks-like-data",
    `line 1, column ${at + 1}: holds a number or a date where the name of a column must stand; ` +
      "give the table a first row with names and export it again",
  );
}
