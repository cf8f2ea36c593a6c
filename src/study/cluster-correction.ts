import type { SmallSample } from "../survival/few-clusters.ts";
import type { StudyFacts } from "./facts.ts";

/**
 * From this many clusters on the costly correction is not worth its time: with 120 the intervals of the two already hold the
 * truth equally often, within two in a thousand draws (tests/simulation/cox-coverage.json).
 */
const MANY_CLUSTERS = 200;

/** How the variance of a hazard ratio between clusters is widened. */
export function clusterCorrection({ clusters }: StudyFacts): SmallSample {
  if (clusters.by === "none") return "none";
  return clusters.clusters < MANY_CLUSTERS ? "shares" : "clusters";
}
