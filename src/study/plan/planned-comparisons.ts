import type { StudyPlan } from "./plan.ts";

/**
 * Comparisons that share one chance of a false alarm: the number the plan gives, or else every question asked here.
 *
 * A study asks one for each group beside the first; a page of feasibility one for each step and outcome.
 */
export function plannedComparisons(plan: Pick<StudyPlan, "plannedComparisons">, asked: number): number {
  return plan.plannedComparisons ?? asked;
}

/**
 * What is wrong with a number of planned comparisons below those that are asked in any case; undefined where nothing is.
 *
 * @param why how many are asked and by what: "3 groups make 2".
 */
export function comparisonsFault(
  planned: number | undefined,
  asked: number,
  why: string,
): string | undefined {
  if (planned === undefined || planned >= asked) return undefined;
  return `counts ${planned}, but ${why} here alone; write ${asked} or more, or leave it out`;
}
