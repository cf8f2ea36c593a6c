import type { FindingLog } from "../base/finding-log.ts";

/** What a scanner knows of the file when all bytes have passed. */
export interface ScannedRecords {
  readonly records: number;
  /** First file line of each record, counted from 1. */
  readonly lineOfRow: Uint32Array;
  /** Bytes of the header without its line end, or undefined where the file has none. */
  readonly headerBytes: Uint8Array | undefined;
  readonly headerFieldCount: number;
  /** Length of the longest record, in bytes. */
  readonly longestRecord: number;
}

export interface RecordScanner {
  /** Takes the next bytes of the file. False: scanning further is pointless. */
  push(bytes: Uint8Array): boolean;
  /** Line of the file at which the next byte stands. */
  line(): number;
  /** `stopped`: bytes are left that were not pushed, so the record under way is no finding. */
  finish(options?: { readonly stopped?: boolean }): ScannedRecords;
}

export interface RecordScannerOptions {
  readonly delimiter: number;
  readonly quote: number;
  /** Bytes that stand for nothing in the file's encoding. */
  readonly undefinedBytes?: readonly number[];
}

const FIELD_START = 0;
const PLAIN = 1;
const QUOTED = 2;
const QUOTE_IN_QUOTED = 3;

const ORDINARY = 0;
const DELIMITER = 1;
const QUOTE = 2;
const LINE_FEED = 3;
const CARRIAGE_RETURN = 4;
const FAULTY = 5;

const [LF, CR] = [0x0a, 0x0d];
const LONGEST_HEADER = 1 << 20;

/**
 * Where each record of a delimited file starts, and which are not sound.
 *
 * Four states: field start, plain, quoted, quote in quoted. Line breaks inside quotes belong to the value but
 * count as file lines. Blank lines are reported and are no records. One finding a record, the first fault met.
 */
export function recordScanner(options: RecordScannerOptions, log: FindingLog): RecordScanner {
  const kindOfByte = byteKinds(options);
  const { delimiter, quote, undefinedBytes = [] } = options;
  const special = [quote, CR, 0, ...undefinedBytes];
  const header: Uint8Array[] = [];
  let lineOfRow = new Uint32Array(1 << 12);
  let records = 0;
  let headerFieldCount = 0;
  let headerLength = 0;
  let longestRecord = 0;
  let position = 0;
  let line = 1;
  let state = FIELD_START;
  let delimiters = 0;
  let recordLine = 1;
  let recordStart = 0;
  let quoteLine = 1;
  let fault: string | undefined;
  // A line feed right behind a carriage return ends nothing of its own.
  let afterReturn = -2;

  const inHeader = () => headerFieldCount === 0;

  function endRecord(end: number, isFileEnd = false): void {
    const length = end - recordStart;
    if (length > longestRecord) longestRecord = length;
    const fields = delimiters + 1;
    if (length === 0) reportBlank();
    else if (inHeader()) {
      headerFieldCount = fields;
      if (fault !== undefined) log.add({ code: fault, severity: "error", line: recordLine });
    } else {
      if (records === lineOfRow.length) lineOfRow = grown(lineOfRow);
      lineOfRow[records] = recordLine;
      records += 1;
      if (fault !== undefined) log.add({ code: fault, severity: "error", row: records, line: recordLine });
      else if (fields !== headerFieldCount) reportRagged(fields, isFileEnd);
    }
  }

  function reportBlank(): void {
    if (inHeader()) log.add({ code: "blank-first-line", severity: "error", line: recordLine });
    else log.add({ code: "blank-line", severity: "warning", line: recordLine });
  }

  function reportRagged(fields: number, isFileEnd: boolean): void {
    const details = { expected: headerFieldCount, found: fields };
    // A last record without a line end, and too short: writing stopped half way.
    const code = isFileEnd && fields < headerFieldCount ? "record-cut-off" : "ragged-record";
    log.add({ code, severity: "error", row: records, line: recordLine, details });
  }

  function startRecord(at: number): void {
    state = FIELD_START;
    delimiters = 0;
    recordLine = line;
    recordStart = at;
    fault = undefined;
  }

  function lineEnd(at: number): void {
    line += 1;
    if (state === QUOTED) return;
    endRecord(at);
    startRecord(at + 1);
  }

  function pairedLineFeed(at: number): void {
    if (state === QUOTED) return;
    recordStart = at + 1;
  }

  function push(bytes: Uint8Array): boolean {
    if (!inHeader() && isPlain(bytes)) return pushPlain(bytes);
    const wasInHeader = inHeader();
    const length = bytes.length;
    let at = 0;
    let headerEnd = -1;
    while (at < length) {
      // The index is below the length, and the table has an entry for every byte.
      const kind = kindOfByte[bytes[at]!]!;
      if (kind === ORDINARY) {
        if (state === FIELD_START) state = PLAIN;
        else if (state === QUOTE_IN_QUOTED) {
          fault ??= "text-after-quote";
          state = PLAIN;
        }
        at += 1;
        while (at < length && kindOfByte[bytes[at]!] === ORDINARY) at += 1;
        continue;
      }
      if (kind === DELIMITER) {
        if (state !== QUOTED) {
          delimiters += 1;
          state = FIELD_START;
        }
      } else if (kind === QUOTE) {
        if (state === FIELD_START) {
          state = QUOTED;
          quoteLine = line;
        } else if (state === QUOTED) state = QUOTE_IN_QUOTED;
        else if (state === QUOTE_IN_QUOTED) state = QUOTED;
        else fault ??= "quote-inside-value";
      } else if (kind === FAULTY) {
        fault ??= bytes[at] === 0 ? "nul-byte" : "encoding-undefined-byte";
        if (state !== QUOTED) state = PLAIN;
      } else if (kind === LINE_FEED && afterReturn === position + at - 1) {
        pairedLineFeed(position + at);
      } else {
        lineEnd(position + at);
        if (kind === CARRIAGE_RETURN) afterReturn = position + at;
        if (wasInHeader && headerEnd < 0 && !inHeader()) headerEnd = at;
      }
      at += 1;
    }
    position += length;
    if (wasInHeader) keepHeader(bytes, headerEnd < 0 ? length : headerEnd);
    return headerLength <= LONGEST_HEADER;
  }

  /** Nothing but cells, marks between them and line feeds: most files are so, and need no states. */
  function isPlain(bytes: Uint8Array): boolean {
    const isBetween = state === FIELD_START || state === PLAIN;
    if (!isBetween || afterReturn === position - 1) return false;
    // A buffer finds a byte many times faster than a plain array of bytes.
    const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
    return !special.some((byte) => buffer.includes(byte));
  }

  function pushPlain(bytes: Uint8Array): boolean {
    const { length } = bytes;
    const expected = headerFieldCount - 1;
    let found = delimiters;
    let from = 0;
    for (let at = 0; at < length; at += 1) {
      const byte = bytes[at];
      if (byte === delimiter) found += 1;
      else if (byte === LF) {
        delimiters = found;
        // A record that lies in these bytes as a whole and is sound, as nearly all are, needs no more than its line.
        if (from > 0 && found === expected && at > from && records < lineOfRow.length) {
          lineOfRow[records] = line;
          records += 1;
          line += 1;
          if (at - from > longestRecord) longestRecord = at - from;
          startRecord(position + at + 1);
        } else lineEnd(position + at);
        from = at + 1;
        found = 0;
      }
    }
    delimiters = found;
    const last = bytes[length - 1];
    if (length > 0) state = last === delimiter || last === LF ? FIELD_START : PLAIN;
    position += length;
    return true;
  }

  function keepHeader(bytes: Uint8Array, end: number): void {
    header.push(bytes.slice(0, end));
    headerLength += end;
    if (headerLength > LONGEST_HEADER) log.add({ code: "header-too-long", severity: "error", line: 1 });
  }

  function endFile(): void {
    if (state === QUOTED) {
      const row = inHeader() ? {} : { row: records + 1 };
      log.add({ code: "quote-not-closed", severity: "error", ...row, line: quoteLine });
    } else if (position > recordStart) endRecord(position, true);
  }

  function finish({ stopped = false }: { readonly stopped?: boolean } = {}): ScannedRecords {
    if (!stopped) endFile();
    const headerBytes = inHeader() ? undefined : joined(header);
    return {
      records,
      lineOfRow: lineOfRow.slice(0, records),
      headerBytes,
      headerFieldCount,
      longestRecord,
    };
  }

  return { push, line: () => line, finish };
}

function byteKinds({ delimiter, quote, undefinedBytes = [] }: RecordScannerOptions): Uint8Array {
  const kinds = new Uint8Array(256);
  kinds[LF] = LINE_FEED;
  kinds[CR] = CARRIAGE_RETURN;
  kinds[delimiter] = DELIMITER;
  kinds[quote] = QUOTE;
  for (const byte of [0, ...undefinedBytes]) kinds[byte] = FAULTY;
  return kinds;
}

function grown(lines: Uint32Array<ArrayBuffer>): Uint32Array<ArrayBuffer> {
  const larger = new Uint32Array(2 * lines.length);
  larger.set(lines);
  return larger;
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  return new Uint8Array(Buffer.concat(parts));
}
