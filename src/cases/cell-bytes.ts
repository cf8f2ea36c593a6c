import iconv from "iconv-lite";
import type { ExportEncoding } from "./text-encoding.ts";

/** Bytes of a file in which cells stand, and the texts that they mean. */
export interface CellBytes {
  readonly bytes: Buffer;
  text(start: number, end: number): string;
}

/** A slice of a text is a copy up to this length; a longer one would keep the whole text in memory. */
const LONGEST_COPIED = 12;

/** Bytes with a way to read texts from them that is cheap for short ones in ASCII, as most identifiers are. */
export function cellBytes(bytes: Buffer, encoding: ExportEncoding): CellBytes {
  let whole: string | undefined;
  return {
    bytes,
    text(start, end) {
      if (!isAscii(bytes, start, end)) return decoded(bytes.subarray(start, end), encoding);
      if (end - start > LONGEST_COPIED) return bytes.toString("latin1", start, end);
      // One text for all bytes, then cut: far cheaper than decoding each cell.
      whole ??= bytes.toString("latin1");
      return whole.slice(start, end);
    },
  };
}

export function decoded(bytes: Buffer, encoding: ExportEncoding): string {
  // The byte order mark of the file was passed over; the same character inside a cell belongs to it.
  return iconv.decode(bytes, encoding, { stripBOM: false });
}

/** The text as the file would hold it, or undefined where the encoding has no such text. */
export function encoded(text: string, encoding: ExportEncoding): Buffer | undefined {
  const bytes = iconv.encode(text, encoding);
  return decoded(bytes, encoding) === text ? bytes : undefined;
}

/** Whether so many bytes of the one, from its start on, are those of the other. */
export function isSame(
  one: Uint8Array,
  oneStart: number,
  other: Uint8Array,
  otherStart: number,
  length: number,
): boolean {
  for (let at = 0; at < length; at += 1) if (one[oneStart + at] !== other[otherStart + at]) return false;
  return true;
}

function isAscii(bytes: Buffer, start: number, end: number): boolean {
  // Both ends lie within the bytes.
  for (let at = start; at < end; at += 1) if (bytes[at]! >= 0x80) return false;
  return true;
}
