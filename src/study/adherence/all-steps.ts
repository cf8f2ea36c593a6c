import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { RECORDED_STATES } from "../../cases/recorded-state.ts";
import { type ProportionInterval, proportionInterval } from "../../summaries/proportion-interval.ts";
import { countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";

/** What one unit's records say of several steps together. */
export type Together = "all" | "some" | "openAndMissed" | "open" | "none";

/** The same in fixed words, in the order of the tables. */
export const TOGETHER: Readonly<Record<Together, string>> = {
  all: "every step that applies was done",
  some: "all written down, at least one not done",
  openAndMissed: "not all written down, at least one not done",
  open: "not all written down, none known as not done",
  none: "none of the steps applies",
};
const KINDS = Object.keys(TOGETHER) as readonly Together[];

/** Several steps, unit by unit. */
export interface AllSteps {
  readonly counts: readonly (UnitCount & { readonly kind: Together })[];
  /** Units with every step written down that applies. */
  readonly complete: UnitCount;
  /** All done among those; Wilson's limits. */
  readonly share: ProportionInterval;
  /** All done among those where any applies, if none and if all of the unrecorded steps were done. */
  readonly bounds: Answer<{ readonly lowest: number; readonly highest: number }>;
}

/**
 * In how many units every step that applies was done.
 *
 * The share is among complete records alone: one step known as not done settles an incomplete record the one way, and
 * nothing settles it the other.
 */
export function allSteps(
  steps: readonly { readonly states: Uint8Array }[],
  rows: ArrayLike<number>,
  persons: RowCodes,
  level: number,
): AllSteps {
  const rowsOf = new Map<Together, number[]>(KINDS.map((kind) => [kind, []]));
  for (const row of Array.from(rows)) rowsOf.get(togetherOf(steps, row))?.push(row);
  const unitsOf = (kind: Together) => rowsOf.get(kind) ?? [];
  const complete = [...unitsOf("all"), ...unitsOf("some")];
  const [all, open] = [unitsOf("all").length, unitsOf("open").length];
  const applicable = rows.length - unitsOf("none").length;
  return {
    counts: KINDS.map((kind) => ({ kind, ...countUnits(unitsOf(kind), persons) })),
    complete: countUnits(complete, persons),
    share: proportionInterval({ count: all, total: complete.length }, { level }),
    bounds:
      applicable === 0
        ? notComputed("no-cases", "none of the steps applies anywhere")
        : computed({ lowest: all / applicable, highest: (all + open) / applicable }),
  };
}

function togetherOf(steps: readonly { readonly states: Uint8Array }[], row: number): Together {
  // In range: rows are rows of the export.
  const found = new Set(steps.map(({ states }) => RECORDED_STATES[states[row]!]));
  if (found.has("notRecorded")) return found.has("notDone") ? "openAndMissed" : "open";
  if (found.has("notDone")) return "some";
  return found.has("done") ? "all" : "none";
}
