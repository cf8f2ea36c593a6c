import { createHash } from "node:crypto";

/** SHA-256 of bytes or UTF-8 text, in lower-case hexadecimal. */
export function contentHash(content: string | Uint8Array): string {
  return createHash("sha256").update(content).digest("hex");
}

/** JSON with the keys of every object in code-unit order, so that equal records have equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, part: unknown) => (isRecord(part) ? sortedByKey(part) : part));
}

function isRecord(part: unknown): part is Record<string, unknown> {
  return typeof part === "object" && part !== null && !Array.isArray(part);
}

function sortedByKey(part: Record<string, unknown>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));
}
