import { createHash } from "node:crypto";
import { closeSync, fstatSync, openSync, readSync } from "node:fs";

/** A file of which parts are read in any order. */
export interface FileSlices {
  readonly buffer: {
    readonly byteLength: number;
    slice(start: number, end?: number): ArrayBuffer;
  };
  /** SHA-256 of the whole file. */
  hash(): string;
  close(): void;
}

const CHUNK = 1 << 22;

export function fileSlices(path: string): FileSlices {
  const file = openSync(path, "r");
  const { size } = fstatSync(file);
  return {
    buffer: {
      byteLength: size,
      slice(start, end = size) {
        // A damaged file may ask for what it does not have.
        if (start < 0 || end > size || end < start) throw new RangeError("outside the file");
        const bytes = new Uint8Array(end - start);
        let at = 0;
        while (at < bytes.length) {
          const length = readSync(file, bytes, at, bytes.length - at, start + at);
          if (length === 0) throw new RangeError("outside the file");
          at += length;
        }
        return bytes.buffer;
      },
    },
    hash() {
      const hash = createHash("sha256");
      const chunk = new Uint8Array(CHUNK);
      for (let at = 0; at < size; ) {
        const length = readSync(file, chunk, 0, CHUNK, at);
        if (length === 0) break;
        hash.update(chunk.subarray(0, length));
        at += length;
      }
      return hash.digest("hex");
    },
    close: () => closeSync(file),
  };
}
