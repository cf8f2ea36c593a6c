import type { Column } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { CELL } from "./cell-status.ts";
import { dayColumnSql, listedColumnSql, numberColumnSql, textColumnSql, UNLISTED } from "./column-sql.ts";
import type { ColumnTaker } from "./csv-table.ts";
import type { ExportField } from "./descriptor.ts";
import { BOOLEAN_WORDS, kindOfField } from "./field-kind.ts";
import { copyTexts, numbersOf } from "./raw-vector.ts";
import { type Missing, missingWords, settleCells } from "./settle-cells.ts";
import { type CollectedWords, type WordCollector, wordCollector } from "./word-collector.ts";
import { type ClosedWord, type WordTable, wordTable } from "./word-table.ts";

/** A code index has at most 16 bits; open lists that are longer stay text. */
const MOST_CODES = 65_535;
/** The places in a list of words fit one byte, with one left for words that are not in it. */
const MOST_LISTED = 254;

/** Takes one column of the file and makes it a typed column. */
export interface ColumnBuilder extends ColumnTaker {
  /** Once all rows were taken: what else must be read of the column before it can be built. */
  secondLook?(): ColumnTaker | undefined;
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
      ...settleCells(field, status, missing, "value-not-a-date", log, lineOfRow),
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
      ...settleCells(field, status, missing, "value-not-a-number", log, lineOfRow),
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
  return { kind: "text", values, ...settleCells(field, status, missing, "", log, lineOfRow) };
}

function codeBuilder(context: Context): ColumnBuilder {
  const list = closedList(context.field);
  return list === undefined ? openCodeBuilder(context) : closedCodeBuilder(context, list);
}

function openCodeBuilder({ field, position, rows, missing }: Context): ColumnBuilder {
  const { taker, collected } = wordTaker(position, rows);
  return {
    ...taker,
    build: (log, lineOfRow) => {
      const { words, indexOfRow } = collected();
      if (words.length <= MOST_CODES) {
        const table = wordTable(words, undefined, missing);
        reportLookalikes(field, table.codes, log);
        return codeColumn(field, table, indexOfRow, missing, log, lineOfRow);
      }
      const values = Array.from(indexOfRow, (word) => words[word] ?? "");
      return textColumn(field, values, missing, log, lineOfRow);
    },
  };
}

/**
 * The words that the dictionary spells out come back as their place in the list, which is several times cheaper than
 * texts. Only where other words turn up, all words of the column are read in a second look.
 */
function closedCodeBuilder(
  { field, position, rows, missing }: Context,
  list: readonly ClosedWord[],
): ColumnBuilder {
  const spelt = list.flatMap(({ value, alsoWritten }) => [value, ...alsoWritten]);
  const listed = [...new Set([...spelt, ...missing.words, ""])].filter((word) => word !== UNLISTED);
  const { taker, collected } = wordTaker(position, rows);
  const build = ({ words, indexOfRow }: CollectedWords, log: FindingLog, lineOfRow: Uint32Array) =>
    codeColumn(field, wordTable(words, list, missing), indexOfRow, missing, log, lineOfRow);
  if (listed.length > MOST_LISTED) {
    return { ...taker, build: (log, lineOfRow) => build(collected(), log, lineOfRow) };
  }
  const placeOfRow = new Uint8Array(rows);
  const hasUnlisted = () => placeOfRow.includes(listed.length);
  return {
    position,
    sql: listedColumnSql(position, listed),
    take: ([vector], offset) => {
      if (vector !== undefined) placeOfRow.set(numbersOf(vector, Uint8Array), offset);
    },
    secondLook: () => (hasUnlisted() ? taker : undefined),
    build: (log, lineOfRow) =>
      build(hasUnlisted() ? collected() : { words: listed, indexOfRow: placeOfRow }, log, lineOfRow),
  };
}

function wordTaker(position: number, rows: number): { taker: ColumnTaker; collected: () => CollectedWords } {
  let collector: WordCollector | undefined;
  const taker: ColumnTaker = {
    position,
    sql: textColumnSql(position),
    take: ([vector], offset) => {
      // Made at the first row: most columns with a list need no collector.
      collector ??= wordCollector(rows);
      if (vector !== undefined) collector.take(vector, offset);
    },
  };
  return { taker, collected: () => (collector ?? wordCollector(rows)).finish() };
}

function codeColumn(
  field: ExportField,
  table: WordTable,
  indexOfRow: CollectedWords["indexOfRow"],
  missing: Missing,
  log: FindingLog,
  lineOfRow: Uint32Array,
): Column {
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
    ...settleCells(field, status, missing, "word-not-in-dictionary", log, lineOfRow),
  };
}

function closedList(field: ExportField): readonly ClosedWord[] | undefined {
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
