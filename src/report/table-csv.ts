import { isRunBySpreadsheets } from "../base/spreadsheet-text.ts";
import type { Cleared, ClearedCell, ClearedTable } from "../disclosure/cleared.ts";

const LINE_END = "\r\n";

export interface CsvOptions {
  /** Written on every row where the data are invented. */
  readonly stamp?: string;
}

/**
 * A cleared table as a CSV file (RFC 4180): what the page shows, with its numbers in plain form.
 *
 * A column in which cells hold one number holds that number. Where cells hold several ("12 (3.4 to 20.1)"), the
 * printed text comes first and each number has a column of its own after it. A hidden cell keeps its words.
 * Text that a spreadsheet would run as a formula is made harmless; numbers, negative ones too, are left alone.
 */
export function tableCsv(table: Cleared<ClearedTable>, options: CsvOptions = {}): string {
  const { stamp } = options;
  const numbers = table.columns.map((_, column) => mostNumbers(table, column - 1));
  const header = table.columns.flatMap(({ label }, column) => columnNames(label, numbers[column] ?? 0));
  const rows = table.rows.map((row) => [
    textField(row.label),
    ...table.columns.slice(1).flatMap((_, at) => cellFields(row.cells[at], numbers[at + 1] ?? 0)),
  ]);
  const lines = [header.map(textField), ...rows];
  if (stamp !== undefined)
    for (const [at, line] of lines.entries()) line.push(textField(at === 0 ? "data note" : stamp));
  return lines.map((line) => line.join(",") + LINE_END).join("");
}

function mostNumbers(table: ClearedTable, cellColumn: number): number {
  return Math.max(0, ...table.rows.map((row) => row.cells[cellColumn]?.values.length ?? 0));
}

function columnNames(label: string, numbers: number): string[] {
  if (numbers < 2) return [label];
  return [label, ...Array.from({ length: numbers }, (_, at) => `${label}: number ${at + 1}`)];
}

function cellFields(cell: ClearedCell | undefined, numbers: number): string[] {
  if (numbers < 2) return [cell === undefined ? "" : singleField(cell)];
  const fields = Array.from({ length: numbers }, (_, at) => numberField(cell?.values[at]));
  return [textField(cell?.text ?? ""), ...fields];
}

function singleField(cell: ClearedCell): string {
  const [value] = cell.values;
  return value === undefined ? textField(cell.text) : numberField(value);
}

function numberField(value: number | undefined): string {
  return value === undefined ? "" : String(value);
}

function textField(text: string): string {
  const safe = harmless(text);
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** An apostrophe in front keeps a spreadsheet from running the cell; what is a plain number needs none. */
function harmless(text: string): string {
  return isRunBySpreadsheets(text) ? `'${text}` : text;
}
