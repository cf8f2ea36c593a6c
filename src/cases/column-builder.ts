import type { Column } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import { encoded } from "./cell-bytes.ts";
import type { CellTaker } from "./cell-reader.ts";
import type { CellSpelling } from "./cell-spelling.ts";
import { CELL } from "./cell-status.ts";
import { dayParser } from "./day-cell.ts";
import type { ExportField } from "./descriptor.ts";
import { BOOLEAN_WORDS, kindOfField } from "./field-kind.ts";
import { type MissingWords, missingWords } from "./missing-words.ts";
import { numberParser } from "./number-cell.ts";
import { serialDayParser } from "./serial-day-cell.ts";
import { settleCells } from "./settle-cells.ts";
import type { ExportEncoding } from "./text-encoding.ts";
import { type CellParser, valueTaker } from "./value-cell.ts";
import { type CollectedWords, wordCollector } from "./word-collector.ts";
import { type ClosedWord, type WordTable, wordTable } from "./word-table.ts";

/** A code index has at most 16 bits; open lists that are longer stay text. */
const MOST_CODES = 65_535;
/** How a spreadsheet writes days of our time where a column lost its format. */
const SERIAL_NUMBER = /^[0-9]{5}([.]0+)?$/;

/** Takes one column of the file and makes it a typed column. */
export interface ColumnBuilder extends Required<CellTaker> {
  /** The column, once all rows were taken; every cell that is not what the dictionary says goes to the log. */
  build(log: FindingLog, lineOfRow: Uint32Array): Column;
}

export interface ColumnPlace {
  readonly field: ExportField;
  /** Place of the column in the header, from 0. */
  readonly position: number;
  readonly rows: number;
  readonly encoding: ExportEncoding;
  readonly missingValues: readonly { readonly value: string; readonly label: string }[];
}

export function columnBuilder(place: ColumnPlace): ColumnBuilder {
  const context = { ...place, missing: missingWords(place.missingValues), spelling: spellingOf(place.field) };
  switch (kindOfField(place.field)) {
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

interface Context extends ColumnPlace {
  readonly missing: MissingWords;
  readonly spelling: CellSpelling;
}

function spellingOf(field: ExportField): CellSpelling {
  const { format: dateFormat = "default", decimalChar = "." } = field;
  return { kind: kindOfField(field), dateFormat, decimalChar };
}

function dayBuilder({ field, position, rows, missing, encoding, spelling }: Context): ColumnBuilder {
  const values = new Int32Array(rows);
  const status = new Uint8Array(rows);
  const encode = (text: string) => encoded(text, encoding);
  const written = dayParser(spelling.dateFormat, encode, field.twoDigitYearsFrom);
  const { parse, count } = withSerialNumbers(written, field);
  const serialNumber = (text: string) => (SERIAL_NUMBER.test(text) ? CELL.serialNumber : undefined);
  return {
    position,
    spelling,
    take: valueTaker(
      { values, status },
      parse,
      missing,
      encode,
      field.serialDates === undefined ? serialNumber : undefined,
    ),
    refuse: (row) => {
      status[row] = CELL.refused;
    },
    build: (log, lineOfRow) => {
      reportMixture(field, count(), status, log);
      return {
        kind: "day",
        values,
        ...settleCells(field, status, missing, "value-not-a-date", log, lineOfRow),
      };
    },
  };
}

/** Reads serial numbers beside written dates where the dictionary says from which year they count. */
function withSerialNumbers(
  written: CellParser,
  { serialDates }: ExportField,
): { parse: CellParser; count: () => number } {
  if (serialDates === undefined) return { parse: written, count: () => 0 };
  const serial = serialDayParser(serialDates);
  let serials = 0;
  const parse: CellParser = (bytes, start, end) => {
    const day = written(bytes, start, end);
    if (day !== undefined) return day;
    const counted = serial(bytes, start, end);
    if (counted !== undefined) serials += 1;
    return counted;
  };
  return { parse, count: () => serials };
}

function reportMixture(field: ExportField, serials: number, status: Uint8Array, log: FindingLog): void {
  const dates = status.reduce((sum, cell) => sum + (cell === CELL.present ? 1 : 0), 0) - serials;
  if (serials === 0 || dates === 0) return;
  log.add({
    code: "dates-and-serial-numbers",
    severity: "warning",
    field: field.name,
    details: { serials, dates },
  });
}

function numberBuilder({ field, position, rows, missing, encoding, spelling }: Context): ColumnBuilder {
  const values = new Float64Array(rows);
  const status = new Uint8Array(rows);
  const parse = numberParser({ decimalChar: spelling.decimalChar, whole: field.type === "integer" });
  return {
    position,
    spelling,
    take: valueTaker({ values, status }, parse, missing, (text) => encoded(text, encoding)),
    refuse: (row) => {
      status[row] = CELL.refused;
    },
    build: (log, lineOfRow) => ({
      kind: "number",
      values,
      ...settleCells(field, status, missing, "value-not-a-number", log, lineOfRow),
    }),
  };
}

function textBuilder({ field, position, rows, missing, spelling }: Context): ColumnBuilder {
  const values = new Array<string>(rows);
  const refused = new Set<number>();
  return {
    position,
    spelling,
    take: (row, cells, start, end) => {
      values[row] = cells.text(start, end);
    },
    refuse: (row) => {
      values[row] = "";
      refused.add(row);
    },
    build: (log, lineOfRow) => textColumn(field, values, refused, missing, log, lineOfRow),
  };
}

function textColumn(
  field: ExportField,
  values: readonly string[],
  refused: ReadonlySet<number>,
  missing: MissingWords,
  log: FindingLog,
  lineOfRow: Uint32Array,
): Column {
  const status = new Uint8Array(values.length);
  for (let row = 0; row < status.length; row += 1) {
    // The row is within the array.
    const text = values[row]!;
    status[row] = text === "" ? missing.blank : missing.words.indexOf(text) + 1;
  }
  for (const row of refused) status[row] = CELL.refused;
  return { kind: "text", values, ...settleCells(field, status, missing, "", log, lineOfRow) };
}

function codeBuilder({ field, position, rows, missing, spelling }: Context): ColumnBuilder {
  const list = closedList(field);
  const { take, skip, collected } = wordCollector(rows);
  const refused = new Set<number>();
  return {
    position,
    spelling,
    take,
    refuse: (row) => {
      skip(row);
      refused.add(row);
    },
    build: (log, lineOfRow) => {
      const { words, indexOfRow } = collected();
      if (list === undefined && words.length > MOST_CODES) {
        // In range: every index is that of a word.
        const values = Array.from(indexOfRow, (word) => words[word]!);
        return textColumn(field, values, refused, missing, log, lineOfRow);
      }
      const table = wordTable(words, list, missing);
      if (list === undefined) reportLookalikes(field, table.codes, log);
      return codeColumn(field, table, indexOfRow, refused, missing, log, lineOfRow);
    },
  };
}

function codeColumn(
  field: ExportField,
  table: WordTable,
  indexOfRow: CollectedWords["indexOfRow"],
  refused: ReadonlySet<number>,
  missing: MissingWords,
  log: FindingLog,
  lineOfRow: Uint32Array,
): Column {
  const rows = indexOfRow.length;
  const values = table.codes.length <= 0x100 ? new Uint8Array(rows) : new Uint16Array(rows);
  const status = new Uint8Array(rows);
  const { codes, labels, codeOfWord, statusOfWord } = table;
  for (let row = 0; row < rows; row += 1) {
    // Every index lies within the words it was made from.
    const word = indexOfRow[row]!;
    values[row] = codeOfWord[word]!;
    status[row] = statusOfWord[word]!;
  }
  for (const row of refused) status[row] = CELL.refused;
  return {
    kind: "code",
    values,
    codes,
    labels,
    ...settleCells(field, status, missing, "word-not-in-dictionary", log, lineOfRow),
  };
}

function closedList(field: ExportField): readonly ClosedWord[] | undefined {
  // A list cell holds several of the words: it is taken apart once all are known.
  if (field.categories !== undefined && field.type !== "list") {
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
