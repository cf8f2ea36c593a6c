import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { type ProportionDifference, proportionDifference } from "../../summaries/proportion-difference.ts";
import type { ShareBounds, StepShares } from "./step-shares.ts";

/** What happened to a step between before and after. */
export type ChangeReading = "more" | "moreIfWritten" | "less" | "lessIfWritten" | "chance" | "few";

/** The same in fixed words. */
export const CHANGES: Readonly<Record<ChangeReading, string>> = {
  more: "done more often",
  moreIfWritten: "more often as written; the rest could undo it",
  less: "done less often",
  lessIfWritten: "less often as written; the rest could undo it",
  chance: "chance alone could explain it",
  few: "written down for too few",
};

/** A step before and after a day. Shares from 0 to 1; differences after minus before. */
export interface ChangeOfStep {
  readonly before: StepShares;
  readonly after: StepShares;
  /** Among those recorded; Newcombe's limits. */
  readonly difference: ProportionDifference;
  /** Whatever was not written down, before and after. */
  readonly bounds: Answer<ShareBounds>;
  /** Not recorded among those where the step applies. */
  readonly unrecorded: Answer<{ readonly before: number; readonly after: number }>;
  readonly reading: ChangeReading;
}

/** How a step changed, and how its recording did: a step that is better written down can look better done. */
export function changeOfStep(
  before: StepShares,
  after: StepShares,
  { level, fewestRecorded }: { readonly level: number; readonly fewestRecorded: number },
): ChangeOfStep {
  const difference = proportionDifference(partOf(after), partOf(before), { level });
  const lowest = proportionDifference(filled(after, "none"), filled(before, "all"), { level });
  const highest = proportionDifference(filled(after, "all"), filled(before, "none"), { level });
  const bounds =
    lowest.computed && highest.computed
      ? computed({
          lowest: lowest.difference,
          highest: highest.difference,
          low: lowest.low,
          high: highest.high,
        })
      : notComputed("no-cases", "the step applies nowhere on one side of that day");
  const least = Math.min(before.recorded.units, after.recorded.units);
  return {
    before,
    after,
    difference,
    bounds,
    unrecorded: unrecordedShares(before, after),
    reading: least < fewestRecorded ? "few" : readingOf(difference, bounds),
  };
}

function partOf({ states: [done], recorded }: StepShares) {
  return { count: done?.units ?? 0, total: recorded.units };
}

/** As if none, or all, of the unrecorded were done. */
function filled({ states: [done], recorded, applicable }: StepShares, unrecorded: "none" | "all") {
  const more = unrecorded === "all" ? applicable.units - recorded.units : 0;
  return { count: (done?.units ?? 0) + more, total: applicable.units };
}

function unrecordedShares(before: StepShares, after: StepShares): ChangeOfStep["unrecorded"] {
  const share = ({ applicable, recorded }: StepShares) =>
    (applicable.units - recorded.units) / applicable.units;
  return before.applicable.units === 0 || after.applicable.units === 0
    ? notComputed("no-cases", "the step applies nowhere on one side of that day")
    : computed({ before: share(before), after: share(after) });
}

function readingOf(
  difference: ProportionDifference,
  bounds: ChangeOfStep["bounds"],
): ChangeOfStep["reading"] {
  if (!difference.computed || !bounds.computed) return "few";
  if (difference.low > 0) return bounds.low > 0 ? "more" : "moreIfWritten";
  if (difference.high < 0) return bounds.high < 0 ? "less" : "lessIfWritten";
  return "chance";
}
