import { closeSync, fstatSync, openSync, readSync } from "node:fs";

/** Size and unpacked size of the largest file in a zip archive, as its directory states them. */
export interface ZipSizes {
  readonly packed: number;
  readonly largestUnpacked: number;
}

const END_RECORD = 0x06054b50;
const DIRECTORY_RECORD = 0x02014b50;
/** The end record is 22 bytes, and a comment of up to 64 KiB may follow it. */
const TAIL = 22 + 0xffff;

/** Undefined where the file ends in no directory: it is cut short or no archive. */
export function zipSizes(path: string): ZipSizes | undefined {
  const file = openSync(path, "r");
  try {
    const packed = fstatSync(file).size;
    const tail = bytesOf(file, Math.max(0, packed - TAIL), Math.min(TAIL, packed));
    const end = tail.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
    if (end < 0 || end + 22 > tail.length || tail.readUInt32LE(end) !== END_RECORD) return undefined;
    const [length, start] = [tail.readUInt32LE(end + 12), tail.readUInt32LE(end + 16)];
    if (start + length > packed) return undefined;
    return { packed, largestUnpacked: largestOf(bytesOf(file, start, length)) };
  } finally {
    closeSync(file);
  }
}

function largestOf(directory: Buffer): number {
  let largest = 0;
  for (let at = 0; at + 46 <= directory.length && directory.readUInt32LE(at) === DIRECTORY_RECORD; ) {
    largest = Math.max(largest, directory.readUInt32LE(at + 24));
    at +=
      46 +
      directory.readUInt16LE(at + 28) +
      directory.readUInt16LE(at + 30) +
      directory.readUInt16LE(at + 32);
  }
  return largest;
}

function bytesOf(file: number, start: number, length: number): Buffer {
  const bytes = Buffer.alloc(length);
  return bytes.subarray(0, readSync(file, bytes, 0, length, start));
}
