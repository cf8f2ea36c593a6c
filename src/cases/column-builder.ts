import type { Column } from "../base/column.ts";
import type { Finding } from "../base/finding.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { CELL, UNREADABLE_REASON } from "./cell-status.ts";
import { dayColumnSql, type MissingWords, numberColumnSql, textColumnSql } from "./column-sql.ts";
import type { ColumnTaker } from "./csv-table.ts";
import type { ExportField } from "./descriptor.ts";
import { BOOLEAN_WORDS, kindOfField } from "./field-kind.ts";
import { copyTexts, numbersOf } from "./raw-vector.ts";
import { type CollectedWords, wordCollector } from "./word-collector.ts";
import { wordTable } from "./word-table.ts";

/** A code index has at most 16 bits; open lists that are longer stay text. */
const MOST_CODES = 65_535;

/** Takes one column of the file and makes it a typed column. */
export interface ColumnBuilder extends ColumnTaker {
  /** The column, once all rows were taken; every cell that is not what the dictionary says goes to the log. */
  build(log: FindingLog, lineOfRow: Uint32Array): Column;
}

export function columnBuilder(
  field: ExportField,
  position: number,
  missingValues: readonly { readonly value: string; readonly label: string }[],
  rows: number,
): ColumnBuilder {
  const context = { field, position, rows, missing: missingWords(missingValues) };
  switch (kindOfField(field)) {
    case "day":
      return dayBuilder(context);
    case "number":
      return numberBuilder(context);
    case "text":
      return textBuilder(context);
    case "code":
      return codeBuilder(context);
  }
}

interface Context {
  readonly field: ExportField;
  readonly position: number;
  readonly rows: number;
  readonly missing: Missing;
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

function dayBuilder({ field, position, rows, missing }: Context): ColumnBuilder {
  const values = new Int32Array(rows);
  const status = new Uint8Array(rows);
  return {
    position,
    sql: dayColumnSql(position, field.format ?? "default", missing),
    take: takeValues(values, status, Int32Array),
    build: (log, lineOfRow) => ({
      kind: "day",
      values,
      ...settle(field, status, missing, "value-not-a-date", log, lineOfRow),
    }),
  };
}

function numberBuilder({ field, position, rows, missing }: Context): ColumnBuilder {
  const values = new Float64Array(rows);
  const status = new Uint8Array(rows);
  const options = { decimalChar: field.decimalChar ?? ".", whole: field.type === "integer" };
  return {
    position,
    sql: numberColumnSql(position, options, missing),
    take: takeValues(values, status, Float64Array),
    build: (log, lineOfRow) => ({
      kind: "number",
      values,
      ...settle(field, status, missing, "value-not-a-number", log, lineOfRow),
    }),
  };
}

function takeValues<Values extends Int32Array | Float64Array>(
  values: Values,
  status: Uint8Array,
  kind: abstract new (...args: never[]) => Values,
): ColumnTaker["take"] {
  return ([valueVector, statusVector], offset) => {
    if (valueVector === undefined || statusVector === undefined)
      throw new Error("two answers were asked for");
    values.set(numbersOf(valueVector, kind), offset);
    status.set(numbersOf(statusVector, Uint8Array), offset);
  };
}

function textBuilder({ field, position, rows, missing }: Context): ColumnBuilder {
  const values = new Array<string>(rows);
  return {
    position,
    sql: textColumnSql(position),
    take: ([vector], offset) => {
      if (vector !== undefined) copyTexts(vector, values, offset);
    },
    build: (log, lineOfRow) => textColumn(field, values, missing, log, lineOfRow),
  };
}

function textColumn(
  field: ExportField,
  values: readonly string[],
  missing: Missing,
  log: FindingLog,
  lineOfRow: Uint32Array,
): Column {
  const reasonOfWord = new Map(missing.words.map((word, index) => [word, index + 1]));
  const status = new Uint8Array(values.length);
  for (let row = 0; row < status.length; row += 1) {
    // The row is within the array.
    const text = values[row]!;
    status[row] = text === "" ? missing.blank : (reasonOfWord.get(text) ?? CELL.present);
  }
  return { kind: "text", values, ...settle(field, status, missing, "", log, lineOfRow) };
}

function codeBuilder({ field, position, rows, missing }: Context): ColumnBuilder {
  const collector = wordCollector(rows);
  return {
    position,
    sql: textColumnSql(position),
    take: ([vector], offset) => {
      if (vector !== undefined) collector.take(vector, offset);
    },
    build: (log, lineOfRow) => {
      const collected = collector.finish();
      const isOpen = field.categories === undefined && field.type !== "boolean";
      if (!isOpen || collected.words.length <= MOST_CODES) {
        return codeColumn(field, collected, missing, log, lineOfRow);
      }
      const values = Array.from(collected.indexOfRow, (word) => collected.words[word] ?? "");
      return textColumn(field, values, missing, log, lineOfRow);
    },
  };
}

function codeColumn(
  field: ExportField,
  { words, indexOfRow }: CollectedWords,
  missing: Missing,
  log: FindingLog,
  lineOfRow: Uint32Array,
): Column {
  const list = closedList(field);
  const table = wordTable(words, list, missing);
  if (list === undefined) reportLookalikes(field, table.codes, log);
  const rows = indexOfRow.length;
  const values = table.codes.length <= 0x100 ? new Uint8Array(rows) : new Uint16Array(rows);
  const status = new Uint8Array(rows);
  for (let row = 0; row < rows; row += 1) {
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
    ...settle(field, status, missing, "word-not-in-dictionary", log, lineOfRow),
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
  log: FindingLog,
  lineOfRow: Uint32Array,
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
