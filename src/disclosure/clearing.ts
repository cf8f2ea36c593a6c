import type { DisclosureAct } from "./cleared.ts";
import type { Before } from "./held/before.ts";
import type { Ledger } from "./ledger.ts";

/** What is done to exhibits, in the words of the report's log. Which hidden count is the small one it does not tell. */
export const ACTS = {
  hidden: "hidden",
  before: "given as in a report that the readers hold",
  coarse: "rounded to whole steps",
  rounded: "number at risk worked out from what is shown and rounded",
  merged: "steps merged",
  cut: "line cut short",
  notDrawn: "line not drawn",
  kept: "in the analysts' copy alone",
} as const;

/** The ledger, closed, and the log of what is done to one exhibit. */
export interface Clearing {
  readonly ledger: Ledger;
  /** The same exhibit as the readers hold it. */
  readonly before: Before;
  note(act: keyof typeof ACTS, cells?: number): void;
}

/** Opens the log of one exhibit; `acts` lists them in a fixed order, counts only. */
export function openClearing(
  ledger: Ledger,
  { id, title }: { readonly id: string; readonly title: string },
  before: Before,
): Clearing & { acts(): DisclosureAct[] } {
  const counts = new Map<string, number>();
  return {
    ledger,
    before,
    note: (act, cells = 1) => counts.set(ACTS[act], (counts.get(ACTS[act]) ?? 0) + cells),
    acts: () =>
      Object.values(ACTS).flatMap((act) => {
        const cells = counts.get(act) ?? 0;
        return cells === 0 ? [] : [{ exhibit: id, title, act, cells }];
      }),
  };
}
