import type { FindingLog } from "../base/finding-log.ts";
import type { CellTaker } from "./cell-reader.ts";
import { type CollectedWords, wordCollector } from "./word-collector.ts";

/** A column of the file that the dictionary does not describe. It is not analysed, only searched for persons. */
export interface UndescribedColumn {
  readonly header: string;
  /** Place in the file, from 0. */
  readonly position: number;
  readonly collected: () => CollectedWords;
}

export function undescribedColumns(
  header: readonly string[],
  described: Iterable<number>,
  rows: number,
): { readonly columns: readonly UndescribedColumn[]; readonly takers: readonly CellTaker[] } {
  const known = new Set(described);
  const made = header.flatMap((name, position) => {
    if (known.has(position)) return [];
    const { take, skip, collected } = wordCollector(rows);
    return [{ column: { header: name, position, collected }, taker: { position, take, refuse: skip } }];
  });
  return { columns: made.map(({ column }) => column), takers: made.map(({ taker }) => taker) };
}

/** Hands on what is said of described columns: a cell that cannot be read in another column is nobody's fault. */
export function aboutDescribed(names: readonly string[], log: FindingLog): FindingLog {
  const add: FindingLog["add"] = (finding) => {
    if (finding.field === undefined || names.includes(finding.field)) log.add(finding);
  };
  return { ...log, add };
}
