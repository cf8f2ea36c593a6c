import { closeSync, openSync, readSync, writeSync } from "node:fs";
import iconv from "iconv-lite";
import type { ExportEncoding } from "./text-encoding.ts";

const CHUNK_BYTES = 1 << 20;

/** Writes the file as UTF-8 to `target`, which must lie in the private folder. */
export function writeUtf8Copy(source: string, encoding: ExportEncoding, target: string): void {
  const from = openSync(source, "r");
  const to = openSync(target, "wx");
  try {
    const decoder = iconv.getDecoder(encoding);
    const buffer = Buffer.alloc(CHUNK_BYTES);
    let length = readSync(from, buffer, 0, CHUNK_BYTES, null);
    while (length > 0) {
      writeSync(to, decoder.write(buffer.subarray(0, length)));
      length = readSync(from, buffer, 0, CHUNK_BYTES, null);
    }
    writeSync(to, decoder.end() ?? "");
  } finally {
    closeSync(from);
    closeSync(to);
  }
}
