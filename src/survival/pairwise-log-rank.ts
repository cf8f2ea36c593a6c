import type { Answer } from "../base/answer.ts";
import { adjustedP, type PAdjustment } from "../numeric/adjusted-p.ts";
import { checkObservations } from "./check-observations.ts";
import { clusteredLogRank } from "./clustered-log-rank.ts";
import type { CountsByTime } from "./counts.ts";
import { countsByTime } from "./counts-by-time.ts";
import { isCounts } from "./is-counts.ts";
import { type LogRankOptions, logRankTest } from "./log-rank-test.ts";
import type { ObservationColumns } from "./observations.ts";
import { onlyGroupRows, onlyGroups } from "./only-groups.ts";
import type { LogRankTest } from "./results.ts";

export interface PairwiseOptions extends LogRankOptions {
  /** How p is adjusted for the number of pairs. Default "holm". */
  readonly adjustment?: PAdjustment;
}

export interface PairwiseLogRank {
  readonly kind: "pairwiseLogRank";
  readonly settings: { readonly adjustment: PAdjustment };
  readonly pairs: readonly {
    readonly groups: readonly [string, string];
    readonly test: Answer<LogRankTest>;
    /** Null where the pair's test could not be computed; `test` says why. Such pairs are not counted as tests. */
    readonly adjustedP: number | null;
  }[];
}

/**
 * Which pairs of groups differ in the hazard of an event, with p adjusted for the number of pairs.
 *
 * Each pair is tested on its own rows alone, by the conventions of `clusteredLogRank` for rows with clusters and of
 * `logRankTest` for counts and for rows without.
 *
 * @example
 * pairwiseLogRank({
 *   exit: [1, 2, 3, 4, 5, 6],
 *   event: [1, 1, 1, 1, 0, 1],
 *   group: { codes: [0, 0, 1, 1, 2, 2], labels: ["low", "middle", "high"] },
 * }); // "low" and "middle": chi-square 2.88, p 0.090, adjusted 0.269
 */
export function pairwiseLogRank(
  data: ObservationColumns | CountsByTime,
  options: PairwiseOptions = {},
): PairwiseLogRank {
  const { adjustment = "holm", ...testOptions } = options;
  const { groups, testOf } = pairTest(data, testOptions);
  const pairs = groups.flatMap((first, a) =>
    groups.slice(a + 1).map((second, after) => ({
      groups: [first, second] as const,
      test: testOf([a, a + 1 + after]),
    })),
  );
  const tested = pairs.flatMap(({ test }) => (test.computed ? [test.p] : []));
  const adjusted = adjustedP(tested, adjustment).values();
  return {
    kind: "pairwiseLogRank",
    settings: { adjustment },
    pairs: pairs.map((pair) => ({
      ...pair,
      adjustedP: pair.test.computed ? (adjusted.next().value ?? null) : null,
    })),
  };
}

interface PairTest {
  readonly groups: readonly string[];
  readonly testOf: (pair: readonly [number, number]) => Answer<LogRankTest>;
}

function pairTest(data: ObservationColumns | CountsByTime, options: LogRankOptions): PairTest {
  if (!isCounts(data) && data.cluster !== undefined) {
    const observations = checkObservations(data);
    return {
      groups: observations.group.labels,
      testOf: (pair) => clusteredLogRank(onlyGroupRows(observations, pair), options),
    };
  }
  const counts = isCounts(data) ? data : countsByTime(data);
  return { groups: counts.groups, testOf: (pair) => logRankTest(onlyGroups(counts, pair), options) };
}
