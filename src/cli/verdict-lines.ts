import type { VerdictTables } from "../study/feasibility/feasibility-report.ts";

/** Width of each column: step, verdict, reason, smallest ratio, years; 100 with the gaps between them. */
const WIDTHS = [24, 24, 36, 6, 6] as const;
/** Columns of the table on the page. */
const COLUMNS = ["verdict", "reason", "smallest", "years"] as const;

/** The verdicts as lines for a terminal of 100 columns, cells wrapped at words. */
export function verdictLines(tables: VerdictTables): string[] {
  return tables.flatMap(tableLines);
}

function tableLines(table: VerdictTables[number]): string[] {
  const places = COLUMNS.map((id) => table.columns.findIndex((column) => column.id === id) - 1);
  return [
    table.title,
    "",
    ...rowLines(["step", "verdict", "because", "ratio", "years"]),
    "-".repeat(WIDTHS.reduce((sum, width) => sum + width + 1, -1)),
    ...table.rows.flatMap(({ label, cells }) =>
      rowLines([label, ...places.map((place) => cells[place]?.text ?? "")]),
    ),
    "",
    "ratio: smallest one likely to be seen; years: needed to see the one that matters",
  ];
}

/** One row in as many lines as its longest cell takes. */
function rowLines(cells: readonly string[]): string[] {
  const wrapped = cells.map((cell, at) => wrap(cell, WIDTHS[at] ?? 0));
  const height = Math.max(...wrapped.map((lines) => lines.length));
  return Array.from({ length: height }, (_, line) =>
    wrapped
      .map((lines, at) => {
        const text = lines[line] ?? "";
        const width = WIDTHS[at] ?? 0;
        return at < 3 ? text.padEnd(width) : text.padStart(width);
      })
      .join(" ")
      .trimEnd(),
  );
}

/** Breaks at spaces; a word longer than the line is cut. */
function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > width) {
      lines.push(line);
      line = "";
    }
    line = line === "" ? word : `${line} ${word}`;
    while (line.length > width) {
      lines.push(line.slice(0, width));
      line = line.slice(width);
    }
  }
  return [...lines, line];
}
