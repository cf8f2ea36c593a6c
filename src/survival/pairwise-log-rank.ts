import type { Answer } from "../base/answer.ts";
import { adjustedP, type PAdjustment } from "../numeric/adjusted-p.ts";
import type { CountsByTime } from "./counts.ts";
import { type LogRankOptions, logRankTest } from "./log-rank-test.ts";
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
 * Each pair is tested on its own rows alone, by the conventions of `logRankTest`.
 */
export function pairwiseLogRank(counts: CountsByTime, options: PairwiseOptions = {}): PairwiseLogRank {
  const { adjustment = "holm", ...testOptions } = options;
  const pairs = counts.groups.flatMap((first, a) =>
    counts.groups.slice(a + 1).map((second, after) => ({
      groups: [first, second] as const,
      test: logRankTest(onlyGroups(counts, [a, a + 1 + after]), testOptions),
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

/** The counts of some groups, in the order given. */
export function onlyGroups(counts: CountsByTime, groups: readonly number[]): CountsByTime {
  return {
    ...counts,
    groups: groups.map((group) => counts.groups[group] ?? ""),
    cells: groups.flatMap((group, place) =>
      counts.cells.filter((cell) => cell.group === group).map((cell) => ({ ...cell, group: place })),
    ),
  };
}
