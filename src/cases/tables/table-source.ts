import type { Findings } from "../../base/finding.ts";
import type { FindingLog } from "../../base/finding-log.ts";
import type { CellTaker } from "../cell-reader.ts";
import type { ExportEncoding } from "../text-encoding.ts";

/**
 * A table of cells, whatever kind of file it lies in.
 *
 * It is looked at once, for its shape and everything unsound, before any cell is handed on. Every format hands its
 * cells to the same takers as text, so that the same table gives the same columns.
 */
export interface TableSource {
  /** Column names in the order of the file. */
  readonly header: readonly string[];
  readonly records: number;
  /** First file line, or row of the sheet, of each record, counted from 1. */
  readonly lineOfRow: Uint32Array;
  /** SHA-256 of the file as delivered. */
  readonly fileHash: string;
  /** How the bytes are written that takers are given. */
  readonly encoding: ExportEncoding;
  /** Errors here mean that the file is no sound table and must not be read further. */
  readonly findings: Findings;
  /** Hands every cell to the taker of its column; a cell that the format itself cannot give is refused and reported. */
  readCells(takers: readonly CellTaker[], log: FindingLog): void | Promise<void>;
}
