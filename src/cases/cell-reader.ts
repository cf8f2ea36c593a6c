import { findingLog } from "../base/finding-log.ts";
import { type ByteInput, openBytes } from "./byte-input.ts";
import type { ByteScan } from "./byte-scan.ts";
import { type CellBytes, cellBytes } from "./cell-bytes.ts";
import type { CellSpelling } from "./cell-spelling.ts";
import { ExportError } from "./export-error.ts";
import { byteOrderMark, type ExportEncoding } from "./text-encoding.ts";

/** Takes the cells of one column, in the order of the file. */
export interface CellTaker {
  /** Place of the column in the header, from 0. */
  readonly position: number;
  /** The bytes from `start` to before `end`, without the quotes around them. They are lent for this call only. */
  take(row: number, cells: CellBytes, start: number, end: number): void;
  /** The cell of this row holds nothing that can be read; whoever calls has reported why. */
  refuse?(row: number): void;
  /** How the field wants typed values of a workbook or column file spelt. */
  readonly spelling?: CellSpelling;
}

export interface CellReaderOptions {
  readonly delimiter: string;
  readonly quote: string;
  readonly encoding: ExportEncoding;
  /** Bytes read at a time. Default 64 KiB, which stay in the processor's cache while cells are cut from them. */
  readonly chunkBytes?: number;
}

const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;

/**
 * Hands the cells of a file to the takers of their columns. The byte scan must have found the file sound: then a
 * quote opens a cell or stands inside a quoted one, and every record has the cells of the header.
 *
 * The file is read in chunks; a cell that a chunk cuts in two is read again with the next. All records that the scan
 * counted must arrive, else an ExportError says so.
 */
export function readCells(
  input: ByteInput,
  scan: ByteScan,
  takers: readonly CellTaker[],
  options: CellReaderOptions,
): void {
  const { chunkBytes = 1 << 16 } = options;
  const splitter = cellSplitter(scan, takers, options);
  // A cell is no longer than the longest record, and a quote may need to see the byte behind it.
  const buffer = Buffer.alloc(chunkBytes + scan.longestRecord + 1);
  const file = openBytes(input);
  try {
    let kept = 0;
    let isLast = false;
    while (!isLast) {
      const length = kept + file.read(buffer, kept, buffer.length - kept);
      isLast = length === kept;
      const used = splitter.split(buffer.subarray(0, length), isLast);
      buffer.copyWithin(0, used, length);
      kept = length - used;
    }
  } finally {
    file.close();
  }
  requireAllRecords(scan.records, splitter.records());
}

function requireAllRecords(records: number, rows: number): void {
  if (rows === records) return;
  const log = findingLog();
  log.add({ code: "records-lost", severity: "error", details: { records, rows } });
  throw new ExportError("the case file could not be read as a table", log.findings());
}

function cellSplitter({ header }: ByteScan, takers: readonly CellTaker[], options: CellReaderOptions) {
  const [delimiter, quote] = [options.delimiter.charCodeAt(0), options.quote.charCodeAt(0)];
  const takerAt = header.map((_, position) => takers.find((taker) => taker.position === position));
  const endsCell = new Uint8Array(256);
  for (const byte of [delimiter, LINE_FEED, CARRIAGE_RETURN]) endsCell[byte] = 1;
  let isStart = true;
  // Where the next cell stands. The header is the record before the first row.
  let next = { row: -1, column: 0 };

  /** How many of the bytes were used up; those left begin a cell whose end is not among them. */
  function split(bytes: Buffer, isLast: boolean): number {
    const { length } = bytes;
    const cells = cellBytes(bytes, options.encoding);
    // Copies for the loop: shared variables cost a read from memory at each cell.
    let { row, column } = next;
    let at = isStart ? byteOrderMark(bytes).length : 0;
    isStart = false;
    // At the end of the file an empty last cell has no byte of its own.
    while (at < length || (isLast && column > 0)) {
      if (column === 0 && isLineEnd(bytes[at])) {
        // A blank line, or the second half of a pair of line ends.
        at += 1;
        continue;
      }
      const isQuoted = bytes[at] === quote;
      const end = isQuoted ? closingQuote(bytes, at + 1) : cellEnd(bytes, at);
      const behind = isQuoted ? end + 1 : end;
      if (behind >= length && !isLast) break;
      const taker = row < 0 ? undefined : takerAt[column];
      if (isQuoted && taker !== undefined) handOnQuoted(taker, row, cells, at + 1, end);
      else taker?.take(row, cells, at, end);
      if (behind < length && bytes[behind] === delimiter) column += 1;
      else {
        column = 0;
        row += 1;
      }
      at = behind + 1;
    }
    next = { row, column };
    return Math.min(at, length);
  }

  function handOnQuoted(taker: CellTaker, row: number, cells: CellBytes, start: number, end: number): void {
    const inner = cells.bytes.indexOf(quote, start);
    if (inner < 0 || inner >= end) taker.take(row, cells, start, end);
    else {
      const single = withSingleQuotes(cells.bytes.subarray(start, end), quote);
      taker.take(row, cellBytes(single, options.encoding), 0, single.length);
    }
  }

  /** The first quote that is not doubled, or the end of the bytes. */
  function closingQuote(bytes: Buffer, from: number): number {
    for (let at = from; at < bytes.length; at += 1) {
      if (bytes[at] !== quote) continue;
      if (bytes[at + 1] !== quote) return at;
      at += 1;
    }
    return bytes.length;
  }

  function cellEnd(bytes: Buffer, from: number): number {
    let at = from;
    // The index is below the length, and the table has an entry for every byte.
    while (at < bytes.length && endsCell[bytes[at]!] === 0) at += 1;
    return at;
  }

  return { split, records: () => Math.max(next.row, 0) };
}

function isLineEnd(byte: number | undefined): boolean {
  return byte === LINE_FEED || byte === CARRIAGE_RETURN;
}

function withSingleQuotes(bytes: Buffer, quote: number): Buffer {
  // Inside a cell quotes come in pairs: the first of each is kept.
  let isSecond = false;
  const single = bytes.filter((byte) => {
    isSecond = byte === quote && !isSecond;
    return byte !== quote || isSecond;
  });
  return Buffer.from(single.buffer, single.byteOffset, single.length);
}
