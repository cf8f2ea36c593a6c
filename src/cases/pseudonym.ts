import { createHmac } from "node:crypto";
import { existsSync, readFileSync, realpathSync } from "node:fs";
import { dirname, relative, resolve, sep } from "node:path";
import { UsageError } from "../base/errors.ts";

/** Bytes below which a key can be tried out. */
const FEWEST_KEY_BYTES = 32;
/** A key of one sign repeated is as long as it likes, and still no key. */
const FEWEST_DIFFERENT_BYTES = 10;
/** 128 bits: among a billion values two are alike with a probability of 1 in 10 to the 21st. */
const DIGITS_KEPT = 32;

/** Gives each value its pseudonym. */
export interface Pseudonymiser {
  /** `kind` keeps a patient and a case of the same number apart. The same kind, value and key give the same pseudonym. */
  pseudonym(kind: string, value: string): string;
  /** Tells whether two files were made with one key, without telling the key. */
  readonly keyCheck: string;
}

/**
 * Pseudonyms by a secret key: HMAC-SHA-256 of kind and value, 32 hexadecimal digits after a letter.
 *
 * Without the key nobody can try values out, as one could with a plain hash of a number; with it the same person gets
 * the same pseudonym in every file. The letter keeps spreadsheets from reading a number. Source: RFC 2104, FIPS 198-1.
 */
export function pseudonymiser(key: Uint8Array): Pseudonymiser {
  if (key.length < FEWEST_KEY_BYTES || new Set(key).size < FEWEST_DIFFERENT_BYTES) {
    throw new UsageError(
      "key-too-weak",
      `the key must hold at least ${FEWEST_KEY_BYTES} bytes, not a few repeated; make one with "openssl rand -hex 32"`,
    );
  }
  const digest = (kind: string, value: string) =>
    createHmac("sha256", key).update(`${kind}\u0000${value}`, "utf8").digest("hex");
  return {
    pseudonym: (kind, value) => `P${digest(kind, value).slice(0, DIGITS_KEPT)}`,
    keyCheck: digest("mantle key check", "").slice(0, 8),
  };
}

/**
 * The key in a file, without the line end that an editor leaves.
 *
 * @throws UsageError `key-not-there`; `key-inside-project` where the file lies in one of the folders that are handed on or kept together
 * with the data: whoever gets the folder would get the key.
 */
export function readKey(path: string, folders: readonly string[]): Uint8Array {
  if (!existsSync(path)) {
    throw new UsageError("key-not-there", `${path}: is not there; check the path of the key`);
  }
  const real = realPath(path);
  for (const folder of folders) {
    const way = relative(realPath(folder), real);
    if (way !== "" && (way === ".." || way.startsWith(`..${sep}`) || resolve(way) === way)) continue;
    throw new UsageError(
      "key-inside-project",
      `${path}: the key lies inside ${folder}; keep it in a folder that is never handed on with the data`,
    );
  }
  const bytes = readFileSync(path);
  let end = bytes.length;
  while (end > 0 && (bytes[end - 1] === 0x0a || bytes[end - 1] === 0x0d)) end -= 1;
  return bytes.subarray(0, end);
}

/** Links are followed; of a folder that is not there yet, those of the nearest one that is. */
function realPath(path: string): string {
  const absolute = resolve(path);
  try {
    return realpathSync(absolute);
  } catch {
    const parent = dirname(absolute);
    return parent === absolute ? absolute : resolve(realPath(parent), relative(parent, absolute));
  }
}
