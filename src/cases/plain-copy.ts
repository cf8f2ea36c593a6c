import { closeSync, openSync, readSync, writeSync } from "node:fs";
import iconv from "iconv-lite";
import type { ExportEncoding } from "./text-encoding.ts";

export interface PlainCopyOptions {
  readonly encoding: ExportEncoding;
  readonly quote: string;
  readonly chunkBytes?: number;
}

const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;

/**
 * Writes the file as UTF-8 with line feeds between records to `target`, which must lie in the private folder.
 *
 * The table reader takes no other encoding, and on mixed line ends it either stops or, asked to be lenient, loses the
 * first byte of a record without a word. Line breaks inside quotes stay. The file must have passed the byte scan.
 */
export function writePlainCopy(source: string, target: string, options: PlainCopyOptions): void {
  const { encoding, quote, chunkBytes = 1 << 20 } = options;
  const from = openSync(source, "r");
  const to = openSync(target, "wx");
  try {
    const decoder = iconv.getDecoder(encoding, { stripBOM: false });
    const evenOut = lineEndRewriter(quote.charCodeAt(0));
    const buffer = Buffer.alloc(chunkBytes);
    let length = readSync(from, buffer, 0, chunkBytes, null);
    while (length > 0) {
      const even = evenOut(buffer.subarray(0, length));
      writeWhole(to, encoding === "utf-8" ? even : Buffer.from(decoder.write(even)));
      length = readSync(from, buffer, 0, chunkBytes, null);
    }
  } finally {
    closeSync(from);
    closeSync(to);
  }
}

/** Outside quotes every line end becomes a line feed. In a sound file, quotes open and close in turn. */
function lineEndRewriter(quote: number): (bytes: Buffer) => Buffer {
  let isQuoted = false;
  let isAfterReturn = false;
  return (bytes) => {
    const rewritten = Buffer.alloc(bytes.length);
    let length = 0;
    for (const byte of bytes) {
      if (byte === quote) isQuoted = !isQuoted;
      const isPairEnd = byte === LINE_FEED && isAfterReturn;
      isAfterReturn = byte === CARRIAGE_RETURN && !isQuoted;
      if (isPairEnd) continue;
      rewritten[length] = isAfterReturn ? LINE_FEED : byte;
      length += 1;
    }
    return rewritten.subarray(0, length);
  };
}

function writeWhole(file: number, bytes: Buffer): void {
  let written = 0;
  while (written < bytes.length) written += writeSync(file, bytes, written);
}
