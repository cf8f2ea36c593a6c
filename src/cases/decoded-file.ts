import { closeSync, openSync, readFileSync, readSync, statSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { contentHash } from "../base/content-hash.ts";
import { findingLog } from "../base/finding-log.ts";
import type { ByteInput } from "./byte-input.ts";
import { ExportError } from "./export-error.ts";
import { byteOrderMark, type ExportEncoding, type StatedEncoding } from "./text-encoding.ts";
import { utf8OfUtf16 } from "./utf16.ts";

/** A delimited file in a form that can be scanned. */
export interface DecodedFile {
  /** The path where the file can be scanned as it is, else its decoded bytes. */
  readonly input: ByteInput;
  readonly encoding: ExportEncoding;
  /** SHA-256 of the file as delivered, where the input is no longer that. */
  readonly fileHash?: string;
}

/** A larger file is left to its owner to unpack: it would not fit beside its own columns. */
const MOST_DECODED_BYTES = 2 * 1024 * 1024 * 1024;

/**
 * Makes plain bytes of a file that is packed (gzip) or written in UTF-16; every other file stays where it is.
 *
 * Decoding happens in memory: nothing a patient is described by is written anywhere. UTF-16 is recognised by its mark,
 * gzip by its first bytes, whatever the file is called. Throws ExportError where the file is damaged, too large, or
 * contradicts the encoding that the descriptor states.
 */
export function decodedFile(path: string, stated: StatedEncoding = "utf-8"): DecodedFile {
  const start = firstBytes(path);
  const isPacked = start[0] === 0x1f && start[1] === 0x8b;
  if (!isPacked && wideEncoding(start, stated) === undefined) {
    return { input: path, encoding: stated === "windows-1252" ? stated : "utf-8" };
  }
  const limit = { gibibytes: 2 };
  if (!isPacked && statSync(path).size > MOST_DECODED_BYTES) throw refusal("utf16-too-large", limit);
  const delivered = readFileSync(path);
  const plain = isPacked ? unpacked(delivered, limit) : delivered;
  return { ...inUtf8(plain, stated), fileHash: contentHash(delivered) };
}

function inUtf8(bytes: Uint8Array, stated: StatedEncoding): DecodedFile {
  const wide = wideEncoding(bytes, stated);
  if (wide === undefined) return { input: bytes, encoding: stated === "windows-1252" ? stated : "utf-8" };
  // With its mark, as that of UTF-8: whoever reads on passes over one mark, and a second one belongs to the text.
  const decoded = utf8OfUtf16(bytes, wide);
  if (!decoded.decoded) throw refusal("encoding-not-utf16", undefined, decoded.line);
  return { input: decoded.bytes, encoding: "utf-8" };
}

/** The form of UTF-16 that the file is in, by its mark or as stated. */
function wideEncoding(start: Uint8Array, stated: StatedEncoding): "utf-16le" | "utf-16be" | undefined {
  const { encoding } = byteOrderMark(start);
  const isWide = encoding === "utf-16le" || encoding === "utf-16be";
  // Without a word of the descriptor the mark decides; against its word nothing is read.
  if (isWide && (stated === "utf-8" || stated === "utf-16" || stated === encoding)) return encoding;
  if (isWide || (encoding === "utf-8" && stated.startsWith("utf-16"))) {
    throw refusal("encoding-contradicted", { mark: encoding ?? "", encoding: stated });
  }
  if (stated === "utf-16") return "utf-16le";
  return stated === "utf-16le" || stated === "utf-16be" ? stated : undefined;
}

function unpacked(bytes: Uint8Array, limit: Readonly<Record<string, number>>): Uint8Array {
  try {
    return gunzipSync(bytes, { maxOutputLength: MOST_DECODED_BYTES });
  } catch (error) {
    const isTooLarge = error instanceof Error && "code" in error && error.code === "ERR_BUFFER_TOO_LARGE";
    throw isTooLarge ? refusal("gzip-too-large", limit) : refusal("gzip-damaged");
  }
}

function refusal(code: string, details?: Readonly<Record<string, string | number>>, line?: number) {
  const log = findingLog();
  log.add({ code, severity: "error", ...(line && { line }), ...(details && { details }) });
  return new ExportError("the case file is not a sound table", log.findings());
}

/** The first bytes of a file; none where it cannot be opened, which the scan will say. */
export function firstBytes(path: string, length = 8): Uint8Array {
  if (statSync(path, { throwIfNoEntry: false })?.isFile() !== true) return new Uint8Array(0);
  const file = openSync(path, "r");
  try {
    const bytes = new Uint8Array(length);
    return bytes.subarray(0, readSync(file, bytes, 0, length, 0));
  } finally {
    closeSync(file);
  }
}
