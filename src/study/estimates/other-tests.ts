import { type Answer, notComputed } from "../../base/answer.ts";
import { adjustedP } from "../../numeric/adjusted-p.ts";
import { clusteredLogRank } from "../../survival/clustered-log-rank.ts";
import type { CountsByTime } from "../../survival/counts.ts";
import { type GrayTest, grayTest } from "../../survival/gray-test.ts";
import { logRankTest } from "../../survival/log-rank-test.ts";
import { logRankTrend } from "../../survival/log-rank-trend.ts";
import { pairwiseLogRank } from "../../survival/pairwise-log-rank.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import { withEnoughExpected } from "./compare-groups.ts";
import type { OtherTests } from "./estimates.ts";

/** Tests beside the log-rank: of crude risk always; weighted, along ordered groups and by pairs where the plan asks. */
export function otherTests(
  { observations }: StudyObservations,
  counts: CountsByTime,
  facts: StudyFacts,
): OtherTests {
  const { plan, cause, groups } = facts;
  const { weighting } = plan;
  const event = [cause];
  const data = facts.clusters.by === "none" ? counts : observations;
  const enough = withEnoughExpected(logRankTest(counts, { event }));
  return {
    gray: gray(counts, facts),
    ...(weighting === undefined
      ? {}
      : {
          weighted: !enough.computed
            ? enough
            : data === counts
              ? logRankTest(counts, { event, weighting })
              : clusteredLogRank(observations, { event, weighting }),
        }),
    ...(plan.groupsAreOrdered ? { trend: enough.computed ? logRankTrend(data, { event }) : enough } : {}),
    ...(groups.length > 2 ? { pairs: pairs(data, event) } : {}),
  };
}

/** A pair whose own rows expect too few events gets no p, and is not counted among those p is adjusted for. */
function pairs(data: CountsByTime | StudyObservations["observations"], event: readonly string[]) {
  const gated = pairwiseLogRank(data, { event }).pairs.map(({ groups, test }) => ({
    groups,
    test: withEnoughExpected(test),
  }));
  const adjusted = adjustedP(
    gated.flatMap(({ test }) => (test.computed ? [test.p] : [])),
    "holm",
  ).values();
  return gated.map((pair) => ({
    ...pair,
    adjustedP: pair.test.computed ? (adjusted.next().value ?? null) : null,
  }));
}

function gray(counts: CountsByTime, facts: StudyFacts): Answer<GrayTest> {
  if (!facts.crude.computed) return facts.crude;
  if (facts.delayedEntry) {
    return notComputed("delayed-entry", "the test is not defined where some enter late");
  }
  return grayTest(counts, { cause: facts.cause });
}
