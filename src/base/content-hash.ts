import { createHash } from "node:crypto";
import { isRecord } from "./is-record.ts";

/** SHA-256 of bytes or UTF-8 text, in lower-case hexadecimal. */
export function contentHash(content: string | Uint8Array): string {
  return createHash("sha256").update(content).digest("hex");
}

/** JSON with the keys of every object in code-unit order, so that equal records have equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, part: unknown) => (isRecord(part) ? sortedByKey(part) : part));
}

function sortedByKey(part: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));
}
