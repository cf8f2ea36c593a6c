import { contentHash } from "../../base/content-hash.ts";
import type { Finding, Findings } from "../../base/finding.ts";
import { type FindingLog, findingLog, joinFindings } from "../../base/finding-log.ts";
import type { CellTaker } from "../cell-reader.ts";
import type { TableSource } from "./table-source.ts";

export interface NamedTable {
  readonly name: string;
  readonly table: TableSource;
}

/** Where the rows of each file start. */
export interface FilePart {
  readonly name: string;
  /** First row of the file, from 0. */
  readonly firstRow: number;
}

/**
 * Several files with the same columns as one table, one after the other in the order given.
 *
 * Columns are matched by name, so a later file may hold them in another order; a column too many or too few is an
 * error. Rows count on from file to file, lines start anew, and findings name the file.
 */
export function joinedTable(parts: readonly NamedTable[]): TableSource {
  const [first] = parts;
  if (first === undefined) throw new Error("a table lies in at least one file");
  if (parts.length === 1) return first.table;
  const starts = partsOf(parts);
  const { header, encoding } = first.table;
  return {
    header,
    records: parts.reduce((sum, { table }) => sum + table.records, 0),
    lineOfRow: joinedLines(parts),
    fileHash: contentHash(parts.map(({ table }) => table.fileHash).join("\n")),
    encoding,
    findings: joinFindings(
      ...parts.map(({ name, table }, at) => movedFindings(table.findings, name, starts[at]?.firstRow ?? 0)),
      differences(parts),
    ),
    async readCells(takers, log) {
      for (const [at, { table }] of parts.entries()) {
        const firstRow = starts[at]?.firstRow ?? 0;
        await table.readCells(movedTakers(takers, header, table.header, firstRow), movedLog(log, firstRow));
      }
    },
  };
}

/** The first row of each file. */
export function partsOf(parts: readonly NamedTable[]): readonly FilePart[] {
  let firstRow = 0;
  return parts.map(({ name, table }) => {
    const part = { name, firstRow };
    firstRow += table.records;
    return part;
  });
}

/** Findings of rows, each with the file that its row came from. */
export function withFiles(findings: Findings, parts: readonly FilePart[]): Findings {
  if (parts.length < 2) return findings;
  const fileOf = (row: number) => parts.findLast(({ firstRow }) => firstRow < row)?.name;
  const named = (finding: Finding): Finding => {
    const file = finding.file ?? (finding.row === undefined ? undefined : fileOf(finding.row));
    return file === undefined ? finding : { ...finding, file };
  };
  return {
    ...findings,
    groups: findings.groups.map((group) => ({ ...group, first: group.first.map(named) })),
  };
}

function joinedLines(parts: readonly NamedTable[]): Uint32Array {
  const lines = new Uint32Array(parts.reduce((sum, { table }) => sum + table.lineOfRow.length, 0));
  let at = 0;
  for (const { table } of parts) {
    lines.set(table.lineOfRow, at);
    at += table.lineOfRow.length;
  }
  return lines;
}

function movedFindings(findings: Findings, file: string, firstRow: number): Findings {
  const moved = (finding: Finding): Finding => ({
    ...finding,
    file,
    ...(finding.row !== undefined && { row: finding.row + firstRow }),
  });
  return {
    ...findings,
    groups: findings.groups.map((group) => ({ ...group, first: group.first.map(moved) })),
  };
}

/** Columns that a file has and the first has not, and the other way round; and another encoding. */
function differences(parts: readonly NamedTable[]): Findings {
  const log = findingLog();
  const [first, ...others] = parts;
  for (const { name: file, table } of others) {
    if (first === undefined || table.findings.errors > 0) continue;
    const known = new Set(first.table.header);
    const lacking = first.table.header.filter((name) => !table.header.includes(name));
    for (const field of lacking)
      log.add({ code: "file-lacks-column", severity: "error", field, file, line: 1 });
    table.header.forEach((name, column) => {
      const details = { column: column + 1 };
      if (!known.has(name))
        log.add({ code: "file-has-other-column", severity: "error", file, line: 1, details });
    });
    if (table.encoding !== first.table.encoding)
      log.add({ code: "file-has-other-encoding", severity: "error", file });
  }
  return log.findings();
}

function movedTakers(
  takers: readonly CellTaker[],
  header: readonly string[],
  ownHeader: readonly string[],
  firstRow: number,
): CellTaker[] {
  return takers.map((taker) => ({
    ...taker,
    position: ownHeader.indexOf(header[taker.position] ?? ""),
    take: (row, cells, start, end) => taker.take(firstRow + row, cells, start, end),
    refuse: (row) => taker.refuse?.(firstRow + row),
  }));
}

function movedLog(log: FindingLog, firstRow: number): FindingLog {
  return {
    ...log,
    add: (finding) =>
      log.add(finding.row === undefined ? finding : { ...finding, row: finding.row + firstRow }),
  };
}
