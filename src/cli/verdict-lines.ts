import type { VerdictTables } from "../study/feasibility/feasibility-report.ts";
import { cellLines, ruleLine } from "./cell-lines.ts";

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
    ...cellLines(["step", "verdict", "because", "ratio", "years"], WIDTHS, 3),
    ruleLine(WIDTHS),
    ...table.rows.flatMap(({ label, cells }) =>
      cellLines([label, ...places.map((place) => cells[place]?.text ?? "")], WIDTHS, 3),
    ),
    "",
    "ratio: smallest one likely to be seen; years: needed to see the one that matters",
  ];
}
