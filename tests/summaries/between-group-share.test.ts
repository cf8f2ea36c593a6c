import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { randomStreams } from "../../src/base/random-streams.ts";
import { betweenGroupShare } from "../../src/summaries/between-group-share.ts";
import { expectRelative } from "../reference/record.ts";

const random = randomStreams(1986).stream("clusters");

function estimateOf(values: readonly number[], clusters: readonly number[]): number {
  const answer = betweenGroupShare(values, clusters);
  if (!answer.computed) throw new Error(answer.code);
  return answer.estimate;
}

/** Mean squares written out from lists of lists. */
function analysisTwin(values: readonly number[], clusters: readonly number[]): number {
  const lists = [...new Set(clusters)].map((code) => values.filter((_, row) => clusters[row] === code));
  const mean = (list: readonly number[]) => list.reduce((sum, value) => sum + value, 0) / list.length;
  const squares = (list: readonly number[], around: number) =>
    list.reduce((sum, value) => sum + (value - around) * (value - around), 0);
  const n = values.length;
  const between =
    lists.reduce((sum, list) => sum + list.length * squares([mean(list)], mean(values)), 0) /
    (lists.length - 1);
  const within = lists.reduce((sum, list) => sum + squares(list, mean(list)), 0) / (n - lists.length);
  const size = (n - lists.reduce((sum, list) => sum + list.length * list.length, 0) / n) / (lists.length - 1);
  return (between - within) / (between + (size - 1) * within);
}

describe("betweenGroupShare()", () => {
  it("is 1 where every cluster is of one mind", () => {
    expect(betweenGroupShare([1, 1, 0, 0, 0], [7, 7, 8, 8, 9])).toMatchObject({
      share: 1,
      clusters: 3,
      n: 5,
    });
  });

  it("gives the figures of a small analysis of variance (closed form)", () => {
    // Clusters {1, 3}, {2, 6}, {8, 10}: B = 26, W = 4, m = 2, so (26 − 4) / (26 + 4).
    expect(estimateOf([1, 3, 2, 6, 8, 10], [0, 0, 1, 1, 2, 2])).toBeCloseTo(22 / 30, 14);
  });

  it("shows clusters that are more alike than chance as 0, and keeps the estimate (closed form)", () => {
    // Both clusters {0, 1}: B = 0, W = 1/2, m = 2, so −1.
    expect(betweenGroupShare([0, 1, 0, 1], [0, 0, 1, 1])).toMatchObject({ share: 0, estimate: -1 });
  });

  it("agrees with the mean squares written out, for unequal clusters (twin, seeded)", () => {
    for (let draw = 0; draw < 100; draw += 1) {
      const clusters = [0, 0, 1, ...Array.from({ length: 20 }, () => random.below(6))];
      const values = clusters.map((cluster) =>
        draw % 2 === 0 ? random.below(2) : cluster + 3 * random.uniform(),
      );
      if (new Set(values).size === 1) continue;
      expect(estimateOf(values, clusters)).toBeCloseTo(analysisTwin(values, clusters), 11);
    }
  });

  it("does not change with the order of rows, the names of clusters or the unit (identities)", () => {
    const values = [1, 0, 1, 1, 0, 0, 1];
    const clusters = [0, 0, 0, 1, 1, 2, 2];
    const estimate = estimateOf(values, clusters);
    expectRelative(estimateOf(values.toReversed(), clusters.toReversed()), estimate, 1e-13);
    expectRelative(
      estimateOf(
        values,
        clusters.map((code) => 2_000_000_000 - 7 * code),
      ),
      estimate,
      1e-13,
    );
    expectRelative(
      estimateOf(
        values.map((value) => 1e6 - 250 * value),
        clusters,
      ),
      estimate,
      1e-9,
    );
  });

  it.each([
    ["nobody", [], [], "one-cluster"],
    ["one case", [1], [4], "one-cluster"],
    ["one cluster", [1, 0, 1], [4, 4, 4], "one-cluster"],
    ["equal values", [0.1, 0.1, 0.1], [1, 1, 2], "no-variation"],
    ["one case in every cluster", [1, 0, 1], [1, 2, 3], "no-repeats"],
  ])("has no answer with %s", (_what, values, clusters, code) => {
    expect(betweenGroupShare(values, clusters)).toMatchObject({ computed: false, code });
  });

  it("refuses values that are no numbers, codes that are none, and columns of two lengths", () => {
    expect(() => betweenGroupShare([1, Number.NaN], [1, 1])).toThrow(ArgumentError);
    expect(() => betweenGroupShare([1, 0], [1, -1])).toThrow(ArgumentError);
    expect(() => betweenGroupShare([1, 0], [1, 0.5])).toThrow(ArgumentError);
    expect(() => betweenGroupShare([1, 0], [1])).toThrow(ArgumentError);
  });
});
