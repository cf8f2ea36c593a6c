import type { LogRankTest } from "./results.ts";

/** Expected events below which a group's chi-square is not trusted. */
export const FEWEST_EXPECTED = 5;

/**
 * Names of the groups that expect too few events for a chi-square p.
 *
 * A single knee revised first gives a chi-square of n; the exact chance of that is 1/(n + 1). Groups never at risk at an
 * event expect nothing and are named too. Where this list is not empty, compare rates exactly instead.
 */
export function groupsExpectingTooFew({ groups }: LogRankTest): readonly string[] {
  return groups.filter(({ expected }) => expected < FEWEST_EXPECTED).map(({ group }) => group);
}
