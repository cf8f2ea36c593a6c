import type { Answer } from "../../base/answer.ts";
import type { ProportionInterval } from "../../summaries/proportion-interval.ts";
import type { Standard } from "./plan.ts";
import type { ShareBounds } from "./step-shares.ts";

/** What a step's records say about its standard. */
export type Reading = "reached" | "reachedIfWritten" | "missed" | "missedIfWritten" | "chance" | "few";

/** The same in fixed words. */
export const READINGS: Readonly<Record<Reading, string>> = {
  reached: "standard reached, whatever was not written down",
  reachedIfWritten: "reached where it was written down; the rest could undo it",
  missed: "standard not reached, whatever was not written down",
  missedIfWritten: "not reached where it was written down; the rest could make it up",
  chance: "cannot be told: chance alone could put it on either side",
  few: "cannot be told: written down for too few",
};

/** Shares from 0 to 1. */
export interface SharesOfStep {
  readonly recorded: number;
  /** Done among those recorded. */
  readonly share: ProportionInterval;
  /** Limits of both extremes: what the interval would be, whatever was not written down. */
  readonly bounds: Answer<Pick<ShareBounds, "low" | "high">>;
}

/**
 * What the records say about a standard, by rules in a stated order; the first that meets decides.
 *
 * The interval speaks of chance. A standard counts as reached or not reached, whatever was not written down, where the
 * interval would lie on that side even with the worst of the unrecorded filled in.
 */
export function reading(shares: SharesOfStep, standard: Standard, fewestRecorded: number): Reading {
  const { recorded, share, bounds } = shares;
  if (recorded < fewestRecorded || !share.computed || !bounds.computed) return "few";
  const mark = percentOf(standard) / 100;
  const { reached, missed, holdsReached, holdsMissed } =
    "percentAtLeast" in standard
      ? {
          reached: share.low >= mark,
          missed: share.high < mark,
          holdsReached: bounds.low >= mark,
          holdsMissed: bounds.high < mark,
        }
      : {
          reached: share.high <= mark,
          missed: share.low > mark,
          holdsReached: bounds.high <= mark,
          holdsMissed: bounds.low > mark,
        };
  if (reached) return holdsReached ? "reached" : "reachedIfWritten";
  if (missed) return holdsMissed ? "missed" : "missedIfWritten";
  return "chance";
}

/** The per cent that a standard names. */
export function percentOf(standard: Standard): number {
  return "percentAtLeast" in standard ? standard.percentAtLeast : standard.percentAtMost;
}

/** "at least 95 %". */
export function standardWords(standard: Standard): string {
  return "percentAtLeast" in standard
    ? `at least ${standard.percentAtLeast} %`
    : `at most ${standard.percentAtMost} %`;
}
