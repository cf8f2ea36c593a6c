import type { StudyFacts } from "../facts.ts";

/** A step has four recorded states; the codes of a field are what they are. */
export function isStepExposure({ plan }: StudyFacts): boolean {
  return "step" in plan.exposure;
}
