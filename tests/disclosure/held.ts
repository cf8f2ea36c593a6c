import type { ClearedExhibits } from "../../src/disclosure/cleared.ts";
import type { HeldReport } from "../../src/disclosure/held/held-report.ts";

/** A cleared report as its readers hold it. */
export function heldOf({ audience, threshold, told, exhibits }: ClearedExhibits, id = "before"): HeldReport {
  if (told === undefined) throw new Error("a report for readers other than analysts was expected");
  return { id, audience, hash: "0".repeat(64), threshold, told, exhibits };
}
