import { guardedText } from "../../base/spreadsheet-text.ts";

const ROWS_A_PIECE = 5000;

/** A table as CSV, some thousand rows at a time. Texts that a spreadsheet would run are guarded. */
export function* csvPieces(
  names: readonly string[],
  rows: readonly number[],
  cellsOf: (row: number) => readonly string[],
): Generator<string> {
  yield `${names.map(csvField).join(",")}\n`;
  for (let start = 0; start < rows.length; start += ROWS_A_PIECE) {
    const lines = rows
      .slice(start, start + ROWS_A_PIECE)
      .map((row) => `${cellsOf(row).map(csvField).join(",")}\n`);
    yield lines.join("");
  }
}

function csvField(text: string): string {
  const safe = guardedText(text);
  return /[",\r\n]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
