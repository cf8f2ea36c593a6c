import type { Block } from "../../report/block.ts";
import type { StudyFacts } from "../facts.ts";

/** Below this many in one group the interval says more about them than about the step (tests/simulation/clustered-level.json). */
const TOO_FEW_IN_A_GROUP = 10;

/** A caution where one group rests on a handful of clusters; none where it does not. */
export function fewClustersCaution({ clusters }: StudyFacts): Block[] {
  const { by, fewestInGroup } = clusters;
  if (by === "none" || fewestInGroup >= TOO_FEW_IN_A_GROUP) return [];
  if (fewestInGroup < 2) {
    const text = `One group rests on a single ${by}: what is the ${by}'s and what is the step's cannot be told apart, and no interval of a difference or ratio is given.`;
    return [{ kind: "caution", text }];
  }
  const text = `One group rests on fewer than ${TOO_FEW_IN_A_GROUP} ${by}s. Its result is theirs as much as the step's, and intervals of differences are wide for it.`;
  return [{ kind: "caution", text }];
}
