import { numbered } from "../base/words.ts";
import type { AskedOfDescriptor } from "../study/feasibility/plan-from-descriptor.ts";

/** What the verdicts of a terminal rest on, what of it was taken unasked, and where a study says otherwise. */
export function askedLines(
  { matters, year, isDefault }: Pick<AskedOfDescriptor, "matters" | "year"> & { readonly isDefault: boolean },
  comparisons: number,
): string[] {
  const what =
    "ratio" in matters
      ? `a ratio of ${matters.ratio}`
      : `${matters.per1000} per 1,000 at ${numbered(year, "year")}`;
  const taken = isDefault ? "the default: nobody said; --ratio or --per1000 sets it" : "as asked";
  return [
    `what matters: ${what} (${taken})`,
    `comparisons that share one chance of a false alarm: ${comparisons} (--comparisons sets it)`,
    "a study's own page uses what its plan declares: difference that matters, comparisons, years",
  ];
}
