import {
  type CodeColumn,
  type Column,
  type DayColumn,
  isPresent,
  type NumberColumn,
  type TextColumn,
} from "../base/column.ts";
import type { Finding } from "../base/finding.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { ExportField } from "./descriptor.ts";
import { isGivenName } from "./given-names.ts";
import { birthDates, writtenBirthDates, writtenYears } from "./privacy-birth-dates.ts";
import { kindByHeader } from "./privacy-headers.ts";
import { IDENTIFIER_KINDS, type IdentifierKind } from "./privacy-kinds.ts";
import { countNumbers } from "./privacy-numbers.ts";
import { type CountedWords, identifiersInWords } from "./privacy-words.ts";
import type { UndescribedColumn } from "./undescribed-columns.ts";
import type { CollectedWords } from "./word-collector.ts";

/** What is searched for persons: a table as it was read, with what its dictionary does not describe. */
export interface SearchedTable {
  readonly fields: readonly ExportField[];
  readonly columns: ReadonlyMap<string, Column>;
  readonly undescribed: readonly UndescribedColumn[];
}

/**
 * Reports every column that seems to hold what tells who a person is.
 *
 * Names, dates of birth, record and national numbers, postcodes, addresses, e-mail addresses, telephone numbers and free
 * text are errors: the export must be pseudonymised before anything is analysed. Columns are judged by their name and by
 * all their values. Where the dictionary says under "notPersonal" why a column is none of these, the finding becomes a
 * note. Words that the dictionary lists itself are not searched. No value is ever shown.
 */
export function reportIdentifiers(table: SearchedTable, log: FindingLog): void {
  const operatedField = table.fields.find(({ role }) => role === "operationDate")?.name ?? "";
  const operated = table.columns.get(operatedField);
  const anchor = operated?.kind === "day" ? operated : undefined;
  for (const field of table.fields) {
    const column = table.columns.get(field.name);
    if (column === undefined) continue;
    report(log, { field: field.name }, identifiersInColumn(field, column, anchor), field.notPersonal);
  }
  for (const { header, position, collected } of table.undescribed) {
    const details = { column: position + 1 };
    report(log, { details }, identifiersInCollected(header, collected(), undefined, anchor));
  }
}

/** A column of which only the words and the guessed role are known. */
export interface GuessedWords {
  readonly name: string;
  readonly role: string | undefined;
  readonly collected: () => CollectedWords;
}

/** The same for a table that nobody has described yet. Answers the names of the columns that were reported. */
export function reportIdentifiersInWords(
  columns: readonly GuessedWords[],
  log: FindingLog,
): ReadonlySet<string> {
  const operation = columns.find(({ role }) => role === "operationDate");
  const operated = operation && writtenYears(operation.name, operation.collected());
  const reported = columns.filter(({ name, role, collected }) => {
    const anchor = role === undefined ? operated : undefined;
    const evidences = identifiersInCollected(name, collected(), role, anchor);
    report(log, { field: name }, evidences);
    return evidences.size > 0;
  });
  return new Set(reported.map(({ name }) => name));
}

/** The same for the name of a file: a person's name, an e-mail address or a number in it. */
export function reportNamingFile(fileName: string, log: FindingLog): void {
  if (isNameOfPerson(fileName)) log.add({ code: "file-name-identifies", severity: "error" });
}

interface Evidence {
  readonly evidence: "its name" | "its values";
  readonly values: number;
}
type Evidences = ReadonlyMap<IdentifierKind, Evidence>;

function report(
  log: FindingLog,
  place: Pick<Finding, "field" | "details">,
  evidences: Evidences,
  notPersonal?: string,
): void {
  for (const [kind, { evidence, values }] of evidences) {
    const { code, words } = IDENTIFIER_KINDS[kind];
    const details = { ...place.details, values };
    if (notPersonal === undefined) {
      log.add({ ...place, code, severity: "error", details: { ...details, evidence } });
    } else {
      log.add({
        ...place,
        code: "declared-not-personal",
        severity: "note",
        details: { ...details, what: words },
      });
    }
  }
}

function identifiersInColumn(field: ExportField, column: Column, operated: DayColumn | undefined): Evidences {
  // A list in the dictionary was written by whoever described the export, not by whoever filled it.
  const byValues =
    field.categories !== undefined
      ? new Map<IdentifierKind, number>()
      : valuesOf(column, field.role, operated);
  return withHeader(byValues, field.name, () =>
    column.missing.reduce((sum, reason) => sum + (reason === 0 ? 1 : 0), 0),
  );
}

function valuesOf(column: Column, role: string | undefined, operated: DayColumn | undefined) {
  switch (column.kind) {
    case "number":
      return numbersIn(column);
    case "day":
      // A date with a role that lies before the operation is reported as that.
      return birthsIn(operated === undefined || role !== undefined ? 0 : birthDates(column, operated));
    case "text":
      return identifiersInWords(textsOf(column), role);
    case "code":
      return new Map([
        ...identifiersInWords(codesOf(column), role),
        ...birthsIn(operated === undefined ? 0 : codedBirths(column, operated)),
      ]);
  }
}

function identifiersInCollected(
  header: string,
  { words, indexOfRow }: CollectedWords,
  role: string | undefined,
  operated: DayColumn | undefined,
): Evidences {
  const rowsOf = new Int32Array(words.length);
  for (const word of indexOfRow) rowsOf[word]! += 1;
  const blank = words.findIndex((word) => word.trim() === "");
  const byValues = new Map([
    ...identifiersInWords({ words, rowsOf: (word) => rowsOf[word] ?? 0 }, role),
    ...birthsIn(operated === undefined ? 0 : writtenBirthDates(words, (row) => indexOfRow[row], operated)),
  ]);
  return withHeader(byValues, header, () => indexOfRow.length - (rowsOf[blank] ?? 0));
}

/** What the name of a column says counts where the column is filled, even if its values do not show it. */
function withHeader(
  byValues: ReadonlyMap<IdentifierKind, number>,
  header: string,
  filled: () => number,
): Evidences {
  const evidences = new Map<IdentifierKind, Evidence>(
    [...byValues].map(([kind, values]) => [kind, { evidence: "its values", values }]),
  );
  const kind = kindByHeader(header);
  const values = kind === undefined ? 0 : filled();
  if (kind !== undefined && values > 0 && !evidences.has(kind))
    evidences.set(kind, { evidence: "its name", values });
  return evidences;
}

function birthsIn(rows: number): ReadonlyMap<IdentifierKind, number> {
  return rows > 0 ? new Map([["birthDate", rows]]) : new Map();
}

function codedBirths(column: CodeColumn, operated: DayColumn): number {
  const wordOfRow = (row: number) => (isPresent(column, row) ? column.values[row] : undefined);
  return writtenBirthDates(column.codes, wordOfRow, operated);
}

/** Whole numbers of nine digits and more; the zeros before them were lost, so that one may be missing. */
function numbersIn({ values, missing }: NumberColumn): ReadonlyMap<IdentifierKind, number> {
  const texts: string[] = [];
  for (let row = 0; row < values.length; row += 1) {
    // In range: columns have a value for every row.
    const value = values[row]!;
    if (missing[row] === 0 && value >= 1e8 && value < 1e15 && Number.isInteger(value))
      texts.push(String(value));
  }
  const longest = texts.reduce((most, { length }) => Math.max(most, length), 0);
  const count = Math.max(countNumbers(texts), countNumbers(texts.map((text) => text.padStart(longest, "0"))));
  return count > 0 ? new Map([["number", count]]) : new Map();
}

function textsOf({ values, missing }: TextColumn): CountedWords {
  const isComplete = missing.every((reason) => reason === 0);
  return { words: isComplete ? values : values.filter((_, row) => missing[row] === 0), rowsOf: () => 1 };
}

function codesOf({ codes, values, missing }: CodeColumn): CountedWords {
  const rows = new Int32Array(codes.length);
  for (let row = 0; row < values.length; row += 1) {
    if (missing[row] === 0) rows[values[row]!]! += 1;
  }
  return { words: codes, rowsOf: (word) => rows[word] ?? 0 };
}

/**
 * Two capitalised words of which one is a given name, an e-mail address, or nine to eleven digits in a row: a day of
 * export has eight, its time twelve or fourteen.
 */
function isNameOfPerson(fileName: string): boolean {
  const stem = fileName.replace(/\.[a-z]+(\.gz)?$/i, "");
  if (/@/.test(stem)) return true;
  const words = stem.split(/[^\p{L}]+/u).filter((word) => /^\p{Lu}\p{Ll}+$/u.test(word));
  return (words.length >= 2 && words.some(isGivenName)) || /(^|\D)\d{9,11}(\D|$)/.test(stem);
}
