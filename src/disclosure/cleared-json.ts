import { ArgumentError } from "../base/errors.ts";
import type { Cleared, ClearedExhibits } from "./cleared.ts";
import { markCleared } from "./cleared-value.ts";

export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/**
 * The cleared exhibits of a report as plain data for `results.json`.
 *
 * Equal exhibits give equal data, in the same order. A number that JSON cannot hold is refused.
 */
export function clearedJson(exhibits: ClearedExhibits): Cleared<{ readonly [key: string]: Json }> {
  const { audience, threshold, log, held, told } = exhibits;
  return markCleared({
    audience,
    threshold,
    exhibits: plain(exhibits.exhibits, "exhibits"),
    log: plain(log, "log"),
    // Left out where there is none, so that a report without them has the same record as ever.
    ...(held.length === 0 ? {} : { readersHold: plain(held, "readersHold") }),
    ...(told === undefined ? {} : { told: plain(told, "told") }),
  });
}

function plain(value: unknown, where: string): Json {
  if (value === null || typeof value === "string" || typeof value === "boolean") return value;
  if (typeof value === "number" && Number.isFinite(value)) return value === 0 ? 0 : value;
  if (Array.isArray(value)) return value.map((part, at) => plain(part, `${where}[${at}]`));
  if (typeof value !== "object") {
    throw new ArgumentError(
      `clearedJson: ${where} cannot be written as JSON; give a finite number, text or a record`,
    );
  }
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, part]) => part !== undefined)
      .map(([key, part]) => [key, plain(part, `${where}.${key}`)]),
  );
}
