import { type CodeColumn, isPresent } from "../base/column.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import type { TickedReasons } from "./ticked-reasons.ts";

/** Two tables, and which row of the second belongs to each case. */
interface Link {
  readonly before: Cases;
  readonly table: Cases;
  readonly tableName: string;
  readonly rowOfCase: Int32Array;
}

/**
 * Every reason of each knee once a second table was joined: those of the cases, then those of its row.
 *
 * `after` are the cases with the main reasons of the table. Undefined where neither table keeps more than one reason.
 */
export function linkedReasons(after: Cases, link: Link): TickedReasons | undefined {
  const main = codedReason(after);
  const { before, table, tableName, rowOfCase } = link;
  if (main === undefined) return undefined;
  if (before.tickedReasons === undefined && table.tickedReasons === undefined) return undefined;
  const [ofCases, ofTable] = [reasonsByRow(before), reasonsByRow(table)];
  const sets: string[][] = [];
  const placeOfSet = new Map<string, number>();
  const setOfRow = new Uint16Array(after.rows);
  let [several, changed] = [0, 0];
  for (let row = 0; row < after.rows; row += 1) {
    if (!isPresent(main, row)) continue;
    const linked = rowOfCase[row] ?? -1;
    const words = [...new Set([...ofCases(row), ...(linked < 0 ? [] : ofTable(linked))])];
    const key = JSON.stringify(words);
    const set = placeOfSet.get(key) ?? sets.push(words) - 1;
    placeOfSet.set(key, set);
    setOfRow[row] = set;
    if (words.length < 2) continue;
    several += 1;
    if (words[0] !== main.codes[main.values[row] ?? 0]) changed += 1;
  }
  const foundAs = [
    ...(before.tickedReasons?.foundAs ?? []),
    ...(table.tickedReasons?.foundAs ?? []).map((field) => `${tableName}.${field}`),
  ];
  return { field: main.field, foundAs, sets, setOfRow, several, changed };
}

function codedReason(cases: Cases): CodeColumn | undefined {
  const column = columnOfRole(cases, "revisionReason");
  return column?.kind === "code" ? column : undefined;
}

/** The reasons of a row, the one written first in front; none where they are missing. */
function reasonsByRow(cases: Cases): (row: number) => readonly string[] {
  const column = codedReason(cases);
  const { tickedReasons: ticked } = cases;
  if (column === undefined) return () => [];
  return (row) => {
    if (!isPresent(column, row)) return [];
    return ticked?.sets[ticked.setOfRow[row] ?? 0] ?? [column.codes[column.values[row] ?? 0] ?? ""];
  };
}
