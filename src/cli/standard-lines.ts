import type { StandardsTable } from "../study/adherence/adherence-report.ts";
import { cellLines, ruleLine } from "./cell-lines.ts";

/** Width of each column: step, done, standard, what the records say; 100 with the gaps between them. */
const WIDTHS = [24, 23, 15, 35] as const;
/** Columns of the table on the page. */
const COLUMNS = ["done", "standard", "reading"] as const;

/** The steps and their standards as lines for a terminal of 100 columns. */
export function standardLines(table: StandardsTable): string[] {
  const places = COLUMNS.map((id) => table.columns.findIndex((column) => column.id === id) - 1);
  return [
    table.title,
    "",
    ...cellLines(["step", "done where written down", "standard", "what the records say"], WIDTHS),
    ruleLine(WIDTHS),
    ...table.rows.flatMap(({ label, cells }) =>
      cellLines([label, ...places.map((place) => cells[place]?.text ?? "")], WIDTHS),
    ),
  ];
}
