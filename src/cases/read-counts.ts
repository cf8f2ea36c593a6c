import { statSync } from "node:fs";
import { basename, join } from "node:path";
import { UsageError } from "../base/errors.ts";
import type { Findings } from "../base/finding.ts";
import { type FindingLog, findingLog, joinFindings } from "../base/finding-log.ts";
import { type ByteScan, byteScan } from "./byte-scan.ts";
import { type CellTaker, readCells } from "./cell-reader.ts";
import { type DecodedFile, decodedFile } from "./decoded-file.ts";
import { type CountsDescriptor, loadCountsDescriptor } from "./read-counts-descriptor.ts";
import { CountsError } from "./read-counts-error.ts";
import { type CountsFileRow, checkCountsRows } from "./read-counts-rules.ts";

/** Counts by time that another engine made from rows we do not see. */
export interface CountsFile {
  readonly descriptor: CountsDescriptor;
  readonly rows: readonly CountsFileRow[];
  readonly source: {
    readonly fileName: string;
    readonly fileHash: string;
    readonly descriptorHash: string;
  };
  /** Warnings; errors stop the reading. */
  readonly findings: Findings;
}

/** Rows that name no stratum share this one. */
export const ONE_STRATUM = "all";

/**
 * The counts of one centre or engine, checked to be the counts of real follow-up.
 *
 * The path names a `counts.json` or the folder that holds it. Every fault is collected before the reading stops: the
 * rows must be those of whole follow-up, so that nobody is lost between two of them or left after the last.
 *
 * @throws UsageError for a descriptor, CountsError for a file that cannot be used.
 *
 * @example
 * readCounts("data/counts/centre-c1").rows[0]; // { group: "no tourniquet", tick: 3, atRisk: 899, … }
 */
export function readCounts(path: string): CountsFile {
  const descriptorPath = statSync(path, { throwIfNoEntry: false })?.isDirectory()
    ? join(path, "counts.json")
    : path;
  const { descriptor, folder, hash } = loadCountsDescriptor(descriptorPath);
  const filePath = join(folder, descriptor.file);
  requireFile(filePath);
  const file = decodedFile(filePath);
  const scan = byteScan(file.input);
  const log = findingLog();
  const stopOnErrors = () => {
    const found = joinFindings(scan.findings, log.findings());
    if (found.errors > 0) throw new CountsError(filePath, found);
    return found;
  };
  stopOnErrors();
  checkHeader(scan.header, descriptor, log);
  stopOnErrors();
  const cells = readTexts(file, scan);
  const cellOf = (column: string) => cells[scan.header.indexOf(column)];
  const rows = Array.from({ length: scan.records }, (_, at) =>
    readRow(at, cellOf, { descriptor, line: scan.lineOfRow[at] ?? 0 }, log),
  );
  stopOnErrors();
  checkCountsRows(rows, descriptor, log);
  const findings = stopOnErrors();
  const source = {
    fileName: basename(filePath),
    fileHash: file.fileHash ?? scan.fileHash,
    descriptorHash: hash,
  };
  return { descriptor, rows, source, findings };
}

/** Of several sources the message must say which. */
function requireFile(path: string): void {
  if (statSync(path, { throwIfNoEntry: false })?.isFile() === true) return;
  throw new UsageError("counts-not-found", `${path}: cannot be opened; correct "file" in the descriptor`);
}

function checkHeader(header: readonly string[], { causes, strata }: CountsDescriptor, log: FindingLog): void {
  const needed = ["group", "time", "at_risk", ...causes.map(({ column }) => column), "censored"];
  const report = (code: string, field: string) => log.add({ code, severity: "error", field });
  for (const name of needed) {
    if (!header.includes(name)) report("counts-column-missing", name);
  }
  if (strata !== undefined && !header.includes("stratum")) report("counts-stratum-column-missing", "stratum");
  if (strata === undefined && header.includes("stratum")) report("counts-strata-not-listed", "stratum");
  header.forEach((name, at) => {
    if (needed.includes(name) || name === "stratum" || name === "entered") return;
    log.add({ code: "column-not-described", severity: "warning", line: 1, details: { column: at + 1 } });
  });
}

/** The texts of the file, column by column. */
function readTexts({ input, encoding }: DecodedFile, scan: ByteScan): readonly (readonly string[])[] {
  const columns = scan.header.map((): string[] => []);
  const takers = columns.map(
    (texts, position): CellTaker => ({
      position,
      take(row, cells, start, end) {
        texts[row] = cells.text(start, end);
      },
    }),
  );
  readCells(input, scan, takers, { delimiter: ",", quote: '"', encoding });
  return columns;
}

/** One row; a cell that is not what its column allows is a finding and stands as 0 until the reading stops. */
function readRow(
  at: number,
  cellOf: (column: string) => readonly string[] | undefined,
  { descriptor, line }: { readonly descriptor: CountsDescriptor; readonly line: number },
  log: FindingLog,
): CountsFileRow {
  const { groups, strata = [ONE_STRATUM], causes } = descriptor;
  const report = (code: string, field: string) =>
    log.add({ code, severity: "error", row: at + 1, line, field });
  const whole = (column: string) => {
    const text = cellOf(column)?.[at] ?? "";
    const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
    if (Number.isSafeInteger(value)) return value;
    report("count-not-whole", column);
    return 0;
  };
  const group = cellOf("group")?.[at] ?? "";
  const stratum = cellOf("stratum")?.[at] ?? ONE_STRATUM;
  if (!groups.some(({ label }) => label === group)) report("counts-group-unknown", "group");
  if (!strata.includes(stratum)) report("counts-stratum-unknown", "stratum");
  return {
    group,
    stratum,
    tick: whole("time"),
    atRisk: whole("at_risk"),
    events: causes.map(({ column }) => whole(column)),
    censored: whole("censored"),
    entered: cellOf("entered") === undefined ? 0 : whole("entered"),
    row: at + 1,
    line,
  };
}
