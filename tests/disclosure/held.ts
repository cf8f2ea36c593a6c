import type { ClearedExhibits } from "../../src/disclosure/cleared.ts";
import type { HeldReport } from "../../src/disclosure/held/held-report.ts";

/** What the numbers of a report are of, where a test does not ask. */
export const SAME = "the same definition";

/** A cleared report as its readers hold it. */
export function heldOf(
  { audience, threshold, told, exhibits }: ClearedExhibits,
  id = "before",
  definition: string | undefined = SAME,
): HeldReport {
  if (told === undefined) throw new Error("a report for readers other than analysts was expected");
  const own = definition === undefined ? {} : { definition };
  return { id, audience, hash: "0".repeat(64), threshold, told, exhibits, ...own };
}
