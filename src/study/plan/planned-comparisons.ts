import type { StudyPlan } from "./plan.ts";

/**
 * Comparisons that share one chance of a false alarm: the number the plan gives, or else every question asked here.
 *
 * A study asks one for each group beside the first; a page of feasibility one for each step and outcome.
 */
export function plannedComparisons(plan: Pick<StudyPlan, "plannedComparisons">, asked: number): number {
  return plan.plannedComparisons ?? asked;
}
