import type { StudyFacts } from "../facts.ts";

/** Which numbers a report cuts into groups, and what for; none enters a model so. */
export function cutWords({ plan, hasDates }: Pick<StudyFacts, "plan" | "hasDates">): readonly string[] {
  return [
    ...(hasDates ? ["years of operation into stretches, to see who can be compared"] : []),
    ...(plan.expectedRates === undefined ? [] : ["age into the bands of the table of rates"]),
  ];
}
