import { isUtf8 } from "node:buffer";

/** How the bytes are written that columns are made of: other forms are made UTF-8 first. */
export type ExportEncoding = "utf-8" | "windows-1252";

/** What a descriptor may say of a file. "utf-16" follows the file's mark, and is little-endian without one. */
export const STATED_ENCODINGS = ["utf-8", "utf-16", "utf-16le", "utf-16be", "windows-1252"] as const;
export type StatedEncoding = (typeof STATED_ENCODINGS)[number];

/** Bytes to which Windows-1252 gives no character. */
export const UNDEFINED_IN_WINDOWS_1252 = [0x81, 0x8d, 0x8f, 0x90, 0x9d] as const;

/** What a byte order mark at the start of a file says, and how long it is. */
export function byteOrderMark(start: Uint8Array): {
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | undefined;
  readonly length: number;
} {
  const [first, second, third] = start;
  if (first === 0xef && second === 0xbb && third === 0xbf) return { encoding: "utf-8", length: 3 };
  if (first === 0xff && second === 0xfe) return { encoding: "utf-16le", length: 2 };
  if (first === 0xfe && second === 0xff) return { encoding: "utf-16be", length: 2 };
  return { encoding: undefined, length: 0 };
}

/** How many bytes at the end begin a UTF-8 character that the next chunk will complete. */
export function incompleteTail(bytes: Uint8Array): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back += 1) {
    const byte = bytes[bytes.length - back] ?? 0;
    if (byte < 0x80) return 0;
    if (byte >= 0xc0) return back < utf8Length(byte) ? back : 0;
  }
  return 0;
}

function utf8Length(leadByte: number): number {
  if (leadByte >= 0xf0) return 4;
  return leadByte >= 0xe0 ? 3 : 2;
}

/** Which line of the bytes, counted from 0, holds the first byte that is not UTF-8. */
export function firstLineNotUtf8(bytes: Uint8Array): number {
  let line = 0;
  let start = 0;
  for (let at = 0; at <= bytes.length; at += 1) {
    const isEnd = at === bytes.length || bytes[at] === 0x0a || (bytes[at] === 0x0d && bytes[at + 1] !== 0x0a);
    if (!isEnd) continue;
    if (!isUtf8(bytes.subarray(start, at))) return line;
    start = at + 1;
    line += 1;
  }
  return line;
}
