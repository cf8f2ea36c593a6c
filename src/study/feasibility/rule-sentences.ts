import { levelWords } from "../words.ts";
import type { FeasibilityRules } from "./rules.ts";
import { VERDICTS } from "./verdict.ts";

/** The rules of the verdicts with the thresholds in force, in the order in which they are tried. */
export function ruleSentences(
  rules: FeasibilityRules,
  units: string,
  { hasSurgeons }: { readonly hasSurgeons: boolean },
): string[] {
  const { largestRatio, leastSurgeons } = rules;
  const bySurgeon = hasSurgeons ? "at surgeons (where it is fixed within surgeon), " : "";
  return [
    `“${VERDICTS.no}, because …”: recorded in fewer than ${levelWords(rules.leastRecorded)} of the ${units} to which it applies; or fewer than ${levelWords(rules.leastShare)} in the smaller group; or the outcome was not seen; or fewer than ${levelWords(rules.leastWithin)} in periods of ${rules.yearsInBlock} years, or levels of a declared stratum, that have both.`,
    ...(hasSurgeons
      ? [
          `The same where it is fixed within surgeon (over ${levelWords(rules.fixedFrom)} of its variance lies between surgeons), fewer than ${levelWords(rules.leastWithin)} lie at surgeons who do both, and fewer than ${leastSurgeons} surgeons mostly do the less frequent of the two.`,
        ]
      : []),
    `The same where the whole risk is smaller than the difference that matters, or where even a ratio of ${largestRatio} would likely be missed.`,
    `“${VERDICTS.large}”: the smallest ratio with ${levelWords(rules.power)} chance of being seen is larger than the one that matters.`,
    `“${VERDICTS.within} …”: it applies to fewer than ${levelWords(rules.nearlyAll)} of the ${units}, or fewer lie ${bySurgeon}in periods or in strata that have both. The numbers are then of those within.`,
    `“${VERDICTS.yes}”: none of these. ${hasSurgeons ? "A surgeon, period" : "A period"} or stratum has both where the share of the first group lies from ${levelWords(rules.margin)} to ${levelWords(1 - rules.margin)}.`,
    ...(hasSurgeons
      ? [
          `Where it is fixed within surgeon the variance is widened for results of one surgeon being alike (intraclass correlation ${rules.intraclass}); otherwise only a simulation tells what likeness does.`,
        ]
      : []),
  ];
}
