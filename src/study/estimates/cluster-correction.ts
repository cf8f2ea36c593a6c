import type { SmallSample } from "../../survival/few-clusters.ts";
import type { StudyFacts } from "../facts.ts";

/**
 * With this many clusters in every group the costly correction is not worth its time: with 60 and 60 the intervals of the two
 * already hold the truth equally often, within seven in a thousand draws (tests/simulation/cox-coverage.json).
 */
const MANY_IN_EACH_GROUP = 100;

/** How the variance of a hazard ratio between clusters is widened. */
export function clusterCorrection({ clusters }: StudyFacts): SmallSample {
  if (clusters.by === "none") return "none";
  return clusters.fewestInGroup < MANY_IN_EACH_GROUP ? "shares" : "clusters";
}
