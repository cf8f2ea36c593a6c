import { closeSync, openSync, readSync, statSync } from "node:fs";
import { UsageError } from "../base/errors.ts";

/** The path of a file, or bytes that are in memory already. */
export type ByteInput = string | Uint8Array;

/** Bytes that are read once from their start to their end. */
export interface OpenBytes {
  /** Puts at most `length` of the next bytes into the buffer and answers how many; 0 at the end. */
  read(buffer: Uint8Array, start: number, length: number): number;
  close(): void;
}

export function openBytes(input: ByteInput): OpenBytes {
  return typeof input === "string" ? openFile(input) : openMemory(input);
}

function openFile(path: string): OpenBytes {
  // A folder opens without complaint and fails at the first read.
  if (statSync(path, { throwIfNoEntry: false })?.isFile() !== true) throw notFound();
  const file = opened(path);
  return {
    read: (buffer, start, length) => readSync(file, buffer, start, length, null),
    close: () => closeSync(file),
  };
}

function opened(path: string): number {
  try {
    return openSync(path, "r");
  } catch {
    throw notFound();
  }
}

function openMemory(bytes: Uint8Array): OpenBytes {
  let at = 0;
  return {
    read(buffer, start, length) {
      const next = bytes.subarray(at, at + length);
      buffer.set(next, start);
      at += next.length;
      return next.length;
    },
    close: () => undefined,
  };
}

function notFound(): UsageError {
  return new UsageError(
    "export-not-found",
    "the case file cannot be opened; check the path in the descriptor",
  );
}
