import { constants, gunzipSync } from "node:zlib";
import { firstBytes } from "../decoded-file.ts";

const HEAD_BYTES = 1 << 16;

/** The start of a text file, to see which marks occur in its header. Bytes of wide encodings leave their marks in place. */
export function headText(path: string): string {
  const start = firstBytes(path, HEAD_BYTES);
  const isPacked = start[0] === 0x1f && start[1] === 0x8b;
  return Buffer.from(isPacked ? unpackedStart(start) : start).toString("latin1");
}

function unpackedStart(start: Uint8Array): Uint8Array {
  try {
    // What is cut off after the start is no fault here.
    return gunzipSync(start, { finishFlush: constants.Z_SYNC_FLUSH, maxOutputLength: 1 << 26 });
  } catch {
    return start;
  }
}
