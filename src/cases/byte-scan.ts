import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import type { Findings } from "../base/finding.ts";
import { type FindingLog, findingLog } from "../base/finding-log.ts";
import { type ByteInput, openBytes } from "./byte-input.ts";
import { decoded } from "./cell-bytes.ts";
import { headerFields } from "./header-fields.ts";
import { recordScanner, type ScannedRecords } from "./record-scanner.ts";
import {
  byteOrderMark,
  type ExportEncoding,
  firstLineNotUtf8,
  incompleteTail,
  UNDEFINED_IN_WINDOWS_1252,
} from "./text-encoding.ts";

export interface ByteScanOptions {
  /** Default ",". */
  readonly delimiter?: string;
  /** Default '"'. */
  readonly quote?: string;
  /** Default "utf-8". */
  readonly encoding?: ExportEncoding;
  /** Bytes read at a time. Default 256 KiB. */
  readonly chunkBytes?: number;
}

export interface ByteScan extends ScannedRecords {
  /** Column names in the order of the file. */
  readonly header: readonly string[];
  /** SHA-256 of the bytes; of those read so far where the scan had to stop. */
  readonly fileHash: string;
  /** Errors here mean that the file is no sound table and must not be read further. */
  readonly findings: Findings;
}

/** Room before each chunk for the start of a character that the chunk before cut in two. */
const CARRY = 4;

/**
 * What a delimited file holds, byte by byte: header, records, the line of each, and every record that is not sound.
 *
 * The file is read once, in chunks. UTF-8 is checked strictly; `decodedFile` makes UTF-8 of other forms first. Faults
 * are findings; a file that cannot be opened is a UsageError.
 */
export function byteScan(input: ByteInput, options: ByteScanOptions = {}): ByteScan {
  const { delimiter = ",", quote = '"', encoding = "utf-8", chunkBytes = 1 << 18 } = options;
  const log = findingLog();
  const hash = createHash("sha256");
  const undefinedBytes = encoding === "windows-1252" ? UNDEFINED_IN_WINDOWS_1252 : [];
  const marks = { delimiter: delimiter.charCodeAt(0), quote: quote.charCodeAt(0), undefinedBytes };
  const scanner = recordScanner(marks, log);
  const utf8 = utf8Check(log);
  let isFirst = true;
  const stopped = !readChunks(input, chunkBytes, (buffer, length) => {
    hash.update(buffer.subarray(CARRY, CARRY + length));
    const mark = isFirst
      ? byteOrderMark(buffer.subarray(CARRY, CARRY + length))
      : { encoding: undefined, length: 0 };
    isFirst = false;
    if (mark.encoding === "utf-8" && encoding !== "utf-8") {
      log.add({ code: "encoding-contradicted", severity: "error", details: { mark: "utf-8", encoding } });
      return false;
    }
    if (encoding === "utf-8" && !utf8.accepts(buffer, length, scanner.line())) return false;
    return scanner.push(buffer.subarray(CARRY + mark.length, CARRY + length));
  });
  if (encoding === "utf-8") utf8.finish(scanner.line());
  const scanned = scanner.finish({ stopped });
  const header = headerOf(scanned, encoding, delimiter, quote, log);
  return { ...scanned, header, fileHash: hash.digest("hex"), findings: log.findings() };
}

function headerOf(
  { headerBytes, records }: ScannedRecords,
  encoding: ExportEncoding,
  delimiter: string,
  quote: string,
  log: FindingLog,
): string[] {
  const isSound = log.findings().errors === 0;
  if (headerBytes === undefined) {
    if (isSound) log.add({ code: "file-empty", severity: "error" });
    return [];
  }
  if (isSound && records === 0) log.add({ code: "no-records", severity: "error" });
  return headerFields(decoded(Buffer.from(headerBytes), encoding), delimiter, quote, log);
}

/**
 * Calls `take` with a buffer in which each chunk stands behind `CARRY` spare bytes, until it answers false. Answers
 * whether the whole file was taken.
 */
function readChunks(
  input: ByteInput,
  chunkBytes: number,
  take: (buffer: Uint8Array, length: number) => boolean,
): boolean {
  const file = openBytes(input);
  try {
    const buffer = new Uint8Array(CARRY + chunkBytes);
    for (;;) {
      const length = file.read(buffer, CARRY, chunkBytes);
      if (length === 0) return true;
      if (!take(buffer, length)) return false;
    }
  } finally {
    file.close();
  }
}

/** Strict UTF-8 over chunks: a character cut by a chunk's end is carried into the bytes before the next one. */
function utf8Check(log: FindingLog) {
  let carried = 0;
  let hasFailed = false;
  let endedInReturn = false;
  const fail = (line: number) => {
    hasFailed = true;
    log.add({ code: "encoding-not-utf8", severity: "error", line });
    return false;
  };
  return {
    accepts(buffer: Uint8Array, length: number, lineAtStart: number): boolean {
      const end = CARRY + length;
      const tail = incompleteTail(buffer.subarray(CARRY - carried, end));
      const whole = buffer.subarray(CARRY - carried, end - tail);
      // A line feed that completes the pair of the chunk before starts no further line.
      const counted = endedInReturn && buffer[CARRY] === 0x0a ? 1 : 0;
      if (!isUtf8(whole)) return fail(lineAtStart + firstLineNotUtf8(whole) - counted);
      endedInReturn = buffer[end - 1] === 0x0d;
      buffer.copyWithin(CARRY - tail, end - tail, end);
      carried = tail;
      return true;
    },
    finish(line: number): void {
      if (carried > 0 && !hasFailed) fail(line);
    },
  };
}
