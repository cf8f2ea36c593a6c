import { crc32, inflateRawSync } from "node:zlib";

/** One file of a zip archive, as the directory at its end states it. */
interface ZipEntry {
  readonly name: Buffer;
  readonly method: number;
  readonly checksum: number;
  readonly packed: number;
  readonly unpacked: number;
  readonly start: number;
}

const END_RECORD = 22;
const DIRECTORY_RECORD = 46;
const FILE_RECORD = 30;
const STORED = 0;
const DEFLATED = 8;

/**
 * Whether an archive is whole: every file is where the directory says, under the same name, and its bytes have the
 * check sum that was written with them. The reader of workbooks looks at none of this, and a damaged sheet would come
 * out as other values.
 */
export function isWholeArchive(bytes: Buffer): boolean {
  try {
    return entriesOf(bytes).every((entry) => isWhole(bytes, entry));
  } catch {
    // A place outside the archive, or bytes that unpack to nothing.
    return false;
  }
}

function entriesOf(bytes: Buffer): ZipEntry[] {
  const end = bytes.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
  const count = bytes.readUInt16LE(end + 10);
  const entries: ZipEntry[] = [];
  let at = bytes.readUInt32LE(end + 16);
  if (bytes.length < end + END_RECORD) throw new RangeError("no whole end record");
  for (let entry = 0; entry < count; entry += 1) {
    if (bytes.readUInt32LE(at) !== 0x02014b50) throw new RangeError("no record of a file");
    const nameLength = bytes.readUInt16LE(at + 28);
    entries.push({
      name: bytes.subarray(at + DIRECTORY_RECORD, at + DIRECTORY_RECORD + nameLength),
      method: bytes.readUInt16LE(at + 10),
      checksum: bytes.readUInt32LE(at + 16),
      packed: bytes.readUInt32LE(at + 20),
      unpacked: bytes.readUInt32LE(at + 24),
      start: bytes.readUInt32LE(at + 42),
    });
    at += DIRECTORY_RECORD + nameLength + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
  if (at !== end) throw new RangeError("the directory does not end where the archive does");
  return entries;
}

function isWhole(bytes: Buffer, { name, method, checksum, packed, unpacked, start }: ZipEntry): boolean {
  const nameLength = bytes.readUInt16LE(start + 26);
  const nameStart = start + FILE_RECORD;
  if (bytes.readUInt32LE(start) !== 0x04034b50 || bytes.readUInt16LE(start + 8) !== method) return false;
  if (!bytes.subarray(nameStart, nameStart + nameLength).equals(name)) return false;
  const dataStart = nameStart + nameLength + bytes.readUInt16LE(start + 28);
  const data = bytes.subarray(dataStart, dataStart + packed);
  if (data.length !== packed || (method !== STORED && method !== DEFLATED)) return false;
  const content = method === STORED ? data : inflateRawSync(data, { maxOutputLength: unpacked + 1 });
  return content.length === unpacked && crc32(content) === checksum;
}
