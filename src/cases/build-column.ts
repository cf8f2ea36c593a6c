import type { CodeColumn, Column, DayColumn, NumberColumn, TextColumn } from "../base/column.ts";
import type { Finding } from "../base/finding.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { CELL, UNREADABLE_REASON } from "./cell-status.ts";
import { dayColumnSql, type MissingWords, numberColumnSql } from "./column-sql.ts";
import { type CsvTable, columnName } from "./csv-table.ts";
import type { ExportField } from "./descriptor.ts";
import { BOOLEAN_WORDS, kindOfField } from "./field-kind.ts";
import { wordTable } from "./word-table.ts";

/** A code index has at most 16 bits; open lists that are longer stay text. */
const MOST_CODES = 65_535;

export interface BuildContext {
  readonly table: CsvTable;
  readonly log: FindingLog;
  readonly lineOfRow: Uint32Array;
}

/** One typed column out of the texts of the file; every cell that is not what the dictionary says is a finding. */
export async function buildColumn(
  field: ExportField,
  position: number,
  missingValues: readonly { readonly value: string; readonly label: string }[],
  context: BuildContext,
): Promise<Column> {
  const missing = missingWords(missingValues);
  const kind = kindOfField(field);
  if (kind === "day") return dayColumn(field, position, missing, context);
  if (kind === "number") return numberColumn(field, position, missing, context);
  if (kind === "text") return textColumn(field, position, missing, context);
  return codeColumn(field, position, missing, context);
}

interface Missing extends MissingWords {
  readonly reasons: readonly string[];
}

/** A blank is always missing, with a reason of its own unless the dictionary names one. */
function missingWords(declared: readonly { readonly value: string; readonly label: string }[]): Missing {
  const words = declared.map(({ value }) => value);
  const reasons = declared.map(({ label }) => label);
  const blank = words.indexOf("");
  if (blank >= 0) return { words, reasons, blank: blank + 1 };
  return { words, reasons: [...reasons, "blank"], blank: words.length + 1 };
}

async function dayColumn(
  field: ExportField,
  position: number,
  missing: Missing,
  context: BuildContext,
): Promise<DayColumn> {
  const sql = dayColumnSql(columnName(position), field.format ?? "default", missing);
  const { values, status } = await context.table.days(sql);
  return { kind: "day", values, ...settle(field, status, missing, "value-not-a-date", context) };
}

async function numberColumn(
  field: ExportField,
  position: number,
  missing: Missing,
  context: BuildContext,
): Promise<NumberColumn> {
  const options = { decimalChar: field.decimalChar ?? ".", whole: field.type === "integer" };
  const { values, status } = await context.table.numbers(
    numberColumnSql(columnName(position), options, missing),
  );
  return { kind: "number", values, ...settle(field, status, missing, "value-not-a-number", context) };
}

async function textColumn(
  field: ExportField,
  position: number,
  missing: Missing,
  context: BuildContext,
): Promise<TextColumn> {
  const values = await context.table.texts(position);
  const reasonOfWord = new Map(missing.words.map((word, index) => [word, index + 1]));
  const status = new Uint8Array(values.length);
  for (let row = 0; row < status.length; row += 1) {
    // The row is within the array.
    const text = values[row]!;
    status[row] = text === "" ? missing.blank : (reasonOfWord.get(text) ?? CELL.present);
  }
  return { kind: "text", values, ...settle(field, status, missing, "", context) };
}

async function codeColumn(
  field: ExportField,
  position: number,
  missing: Missing,
  context: BuildContext,
): Promise<CodeColumn | TextColumn> {
  const { words, indexOfRow } = await context.table.words(position);
  const isOpen = field.categories === undefined && field.type !== "boolean";
  if (isOpen && words.length > MOST_CODES) return textColumn(field, position, missing, context);
  const table = wordTable(words, closedList(field), missing);
  if (isOpen) reportLookalikes(field, table.codes, context.log);
  const values =
    table.codes.length <= 0x100 ? new Uint8Array(indexOfRow.length) : new Uint16Array(indexOfRow.length);
  const status = new Uint8Array(indexOfRow.length);
  for (let row = 0; row < indexOfRow.length; row += 1) {
    // Every index lies within the words it was made from.
    const word = indexOfRow[row]!;
    values[row] = table.codeOfWord[word]!;
    status[row] = table.statusOfWord[word]!;
  }
  const { codes, labels } = table;
  return {
    kind: "code",
    values,
    codes,
    labels,
    ...settle(field, status, missing, "word-not-in-dictionary", context),
  };
}

function closedList(field: ExportField) {
  if (field.categories !== undefined) {
    return field.categories.map(({ value, label }) => ({ value, label: label ?? value, alsoWritten: [] }));
  }
  if (field.type !== "boolean") return undefined;
  return (["true", "false"] as const).map((value) => ({
    value,
    label: value,
    alsoWritten: BOOLEAN_WORDS[value],
  }));
}

/** Open lists are never merged on our own guess; that two codes may be one is said. */
function reportLookalikes(field: ExportField, codes: readonly string[], log: FindingLog): void {
  const folded = new Set(codes.map((code) => code.trim().toLowerCase()));
  if (folded.size === codes.length) return;
  const details = { codes: codes.length, apart: folded.size };
  log.add({ code: "codes-look-alike", severity: "warning", field: field.name, details });
}

const STATUS_FINDINGS: Readonly<Record<number, Pick<Finding, "code" | "severity">>> = {
  [CELL.serialNumber]: { code: "date-is-serial-number", severity: "error" },
  [CELL.spacesAround]: { code: "spaces-around-value", severity: "note" },
  [CELL.respelt]: { code: "word-respelt", severity: "note" },
};

/** Turns cell status into missing marks and findings. The status array becomes the mask: it was made for this column. */
function settle(
  field: ExportField,
  status: Uint8Array,
  missing: Missing,
  unreadableCode: string,
  { log, lineOfRow }: BuildContext,
): { field: string; missing: Uint8Array; missingReasons: readonly string[] } {
  const unreadable = missing.reasons.length + 1;
  let hasUnreadable = false;
  for (let row = 0; row < status.length; row += 1) {
    // The row is within the array.
    const cell = status[row]!;
    if (cell < CELL.unreadable) continue;
    const finding = STATUS_FINDINGS[cell] ?? { code: unreadableCode, severity: "error" as const };
    log.add({ ...finding, row: row + 1, line: lineOfRow[row] ?? 0, field: field.name });
    const isValue = finding.severity === "note";
    status[row] = isValue ? CELL.present : unreadable;
    hasUnreadable ||= !isValue;
  }
  const missingReasons = hasUnreadable ? [...missing.reasons, UNREADABLE_REASON] : missing.reasons;
  return { field: field.name, missing: status, missingReasons };
}
