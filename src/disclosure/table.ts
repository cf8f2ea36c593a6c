import { clearCell, enterCell } from "./cell.ts";
import type { ClearedTable } from "./cleared.ts";
import type { Clearing } from "./clearing.ts";
import type { TableExhibit } from "./exhibit.ts";
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
  return {
    kind: "table",
    id: table.id,
    title: table.title,
    columns: table.columns.map(({ id, label, align = "start" }) => ({ id, label, align })),
    rows: table.rows.map(({ label, heading = false, indent = 0, style, cells }) => ({
      label,
      heading,
      indent,
      ...(style === undefined ? {} : { style }),
      cells: cells.map((cell) => clearCell(clearing, cell)),
    })),
    notes: table.notes ?? [],
    settings: table.settings ?? {},
    ...(table.picture === undefined ? {} : { picture: table.picture }),
  };
}
