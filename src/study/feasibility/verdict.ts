import type { Answer } from "../../base/answer.ts";
import { levelWords, listed } from "../words.ts";
import type { FeasibilityRules } from "./rules.ts";

/** Fixed words, from the best answer to the worst. */
export const VERDICTS = {
  yes: "can be compared",
  within: "can be compared only within",
  large: "only a large difference could be seen",
  no: "cannot be compared",
} as const;

/** What is known of a question before its answer: counts over all groups, shares, and what follows from them. */
export interface Standing {
  readonly done: number;
  readonly notDone: number;
  readonly notApplicable: number;
  readonly notRecorded: number;
  /** Of both groups together. */
  readonly events: number;
  /** Absent where the step is not fixed within surgeon, or no field names the surgeon. */
  readonly fixed?: {
    /** Surgeons who mostly do the less frequent of the two. */
    readonly surgeonsOnFewerSide: number;
    readonly withinSurgeons: Overlap;
  };
  /** Years of operation and declared strata. */
  readonly overlaps: readonly Overlap[];
  /** Smallest ratio with the stated chance of being seen, among the units the verdict speaks of. */
  readonly smallest: Answer<{ readonly ratio: number }>;
  readonly matters: Answer<{ readonly ratio: number }>;
}

/** Where a step was both done and not done. */
export interface Overlap {
  /** "operations of 2008–2013": how the restriction reads after "within". */
  readonly within: string;
  /** "years of operation": what the levels are. */
  readonly levels: string;
  /** Share of the units compared that lie at levels with both. */
  readonly share: number;
}

export interface Verdict {
  readonly kind: keyof typeof VERDICTS;
  /** Stable name of the rule that decided. */
  readonly code: string;
  /** The fixed words, completed by what it is within. */
  readonly words: string;
  /** Why, in words that hold thresholds and no counts. */
  readonly because: string;
  /** What a comparison must keep within, whatever the verdict. */
  readonly within: readonly string[];
}

type Ruling = Omit<Verdict, "within">;

/**
 * Whether a question can be asked of an export, by stated rules in a stated order; the first that meets decides.
 *
 * Total events, exposure shares and where the step varies are all it sees: never what happened in which group.
 */
export function verdict(standing: Standing, rules: FeasibilityRules): Verdict {
  const within = placesWithin(standing, rules);
  const ruling =
    cannotBeCompared(standing, rules) ?? onlyALargeDifference(standing) ?? onlyWithin(within) ?? YES;
  return { ...ruling, within };
}

const YES: Ruling = {
  kind: "yes",
  code: "can-be-compared",
  words: VERDICTS.yes,
  because: "what matters could be seen",
};

/** The restrictions that a comparison must keep to. */
export function restrictions(
  { fixed, overlaps }: Pick<Standing, "fixed" | "overlaps">,
  rules: FeasibilityRules,
) {
  const all = fixed === undefined ? overlaps : [fixed.withinSurgeons, ...overlaps];
  return all.filter(({ share }) => share < rules.nearlyAll && share >= rules.leastWithin);
}

function cannotBeCompared(standing: Standing, rules: FeasibilityRules): Ruling | undefined {
  const { done, notDone, notRecorded, events, fixed, overlaps, smallest, matters } = standing;
  const compared = done + notDone;
  if (compared === 0) return no("not-recorded", "it is nowhere recorded as done or not done");
  if (compared < rules.leastRecorded * (compared + notRecorded)) {
    return no("little-recorded", `it is recorded in fewer than ${levelWords(rules.leastRecorded)}`);
  }
  // One sentence for nobody and for few: the difference would tell a small count.
  if (done === 0 || notDone === 0) return no("one-group", nobodyToCompare(rules));
  if (Math.min(done, notDone) < rules.leastShare * compared) return no("one-sided", nobodyToCompare(rules));
  if (events === 0) return no("no-events", "the outcome was not seen");
  const sparse = overlaps.find(({ share }) => share < rules.leastWithin);
  if (sparse !== undefined) {
    return no(
      "no-overlap",
      `fewer than ${levelWords(rules.leastWithin)} lie at ${sparse.levels} that have both`,
    );
  }
  if (
    fixed !== undefined &&
    fixed.withinSurgeons.share < rules.leastWithin &&
    fixed.surgeonsOnFewerSide < rules.leastSurgeons
  ) {
    return no("surgeon-alone", "it cannot be told from the surgeon");
  }
  if (!matters.computed) return no(matters.code, matters.because);
  if (!smallest.computed) return no(smallest.code, smallest.because);
  if (smallest.ratio > rules.largestRatio) {
    return no("too-few-events", `even a ratio of ${rules.largestRatio} would likely be missed`);
  }
  return undefined;
}

function onlyALargeDifference({ smallest, matters }: Standing): Ruling | undefined {
  if (!smallest.computed || !matters.computed || smallest.ratio <= matters.ratio) return undefined;
  return {
    kind: "large",
    code: "large-difference",
    words: VERDICTS.large,
    because: "what matters would likely be missed",
  };
}

/** Not applicable counts too: nobody can do a step that does not apply. */
function placesWithin(standing: Standing, rules: FeasibilityRules): string[] {
  const { done, notDone, notRecorded, notApplicable } = standing;
  const all = done + notDone + notRecorded + notApplicable;
  const kept = restrictions(standing, rules).map(({ within }) => within);
  return all - notApplicable < rules.nearlyAll * all ? ["where it applies", ...kept] : kept;
}

function onlyWithin(within: readonly string[]): Ruling | undefined {
  if (within.length === 0) return undefined;
  return {
    kind: "within",
    code: "only-within",
    words: `${VERDICTS.within} ${listed(within)}`,
    because: "elsewhere it does not vary enough",
  };
}

function no(code: string, because: string): Ruling {
  return { kind: "no", code, words: `${VERDICTS.no}, because ${because}`, because };
}

function nobodyToCompare({ leastShare }: FeasibilityRules): string {
  return `fewer than ${levelWords(leastShare)}, or nobody, are in the smaller group`;
}
