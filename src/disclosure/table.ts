import { clearCell, enterCell } from "./cell.ts";
import type { ClearedTable } from "./cleared.ts";
import type { Clearing } from "./clearing.ts";
import type { TableExhibit } from "./exhibit.ts";
import { AS_BEFORE_NOTE } from "./held/mark.ts";
import { cellPlace, rowNames } from "./held/places.ts";
import { enterRelation, type Ledger } from "./ledger.ts";

/** Notes every count of a table and the relations it declares. */
export function enterTable(ledger: Ledger, table: TableExhibit): void {
  for (const row of table.rows) {
    for (const cell of row.cells) enterCell(ledger, cell);
  }
  for (const relation of table.relations ?? []) enterRelation(ledger, relation);
}

/** The table as the ledger's readers may see it. */
export function clearTable(clearing: Clearing, table: TableExhibit): ClearedTable {
  const names = rowNames(table);
  const rows = table.rows.map(({ label, heading = false, indent = 0, style, cells }, row) => ({
    label,
    heading,
    indent,
    ...(style === undefined ? {} : { style }),
    cells: cells.map((cell, at) => clearCell(clearing, cell, cellPlace(names[row], table, at))),
  }));
  const asBefore = rows.some(({ cells }) => cells.some((cell) => cell.asBefore));
  return {
    kind: "table",
    id: table.id,
    title: table.title,
    columns: table.columns.map(({ id, label, align = "start" }) => ({ id, label, align })),
    rows,
    notes: [...(table.notes ?? []), ...(asBefore ? [AS_BEFORE_NOTE] : [])],
    settings: table.settings ?? {},
    ...(table.picture === undefined ? {} : { picture: table.picture }),
  };
}
