import { unguardedText } from "../../base/spreadsheet-text.ts";
import type { CellTaker } from "../cell-reader.ts";
import type { TableSource } from "./table-source.ts";

const APOSTROPHE = 0x27;

/** The table without the apostrophes that keep a spreadsheet from running its texts. */
export function unguardedTable(table: TableSource): TableSource {
  return {
    ...table,
    header: table.header.map(unguardedText),
    readCells: (takers, log) => table.readCells(takers.map(unguardedTaker), log),
  };
}

function unguardedTaker(taker: CellTaker): CellTaker {
  return {
    ...taker,
    take: (row, cells, start, end) => {
      const isGuarded = cells.bytes[start] === APOSTROPHE && start < end;
      const from = isGuarded && isLonger(cells.text(start, end)) ? start + 1 : start;
      taker.take(row, cells, from, end);
    },
  };
}

function isLonger(text: string): boolean {
  return unguardedText(text) !== text;
}
