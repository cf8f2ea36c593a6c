import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { pairwiseLogRank } from "../../src/survival/pairwise-log-rank.ts";
import {
  codeColumn,
  expectAllRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";

describe("pairwiseLogRank()", () => {
  const rows = referenceRows("bmt_dfs.csv");
  const counts = countsByTime({
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "status"),
    group: codeColumn(rows, "group", ["ALL", "AML low risk", "AML high risk"]),
  });
  const { expected } = referenceRecord("02_logrank", "logrank.bmt_pairwise");

  it("tests each pair on its own rows and adjusts both ways (reference: R survival)", () => {
    const holm = pairwiseLogRank(counts);
    expect(holm.pairs.map(({ groups }) => groups.join(" vs "))).toEqual(expected.pairs);
    expectAllRelative(
      holm.pairs.map(({ test }) => (test.computed ? test.p : null)),
      expected.p,
      1e-9,
    );
    expectAllRelative(
      holm.pairs.map((pair) => pair.adjustedP),
      expected.holm,
      1e-9,
    );
    expectAllRelative(
      pairwiseLogRank(counts, { adjustment: "false-discovery-rate" }).pairs.map((pair) => pair.adjustedP),
      expected.bh,
      1e-9,
    );
  });

  it("leaves a pair that cannot be tested out of the count of tests", () => {
    const withEmpty = countsByTime({
      exit: [1, 2, 3, 4],
      event: [1, 1, 1, 0],
      group: { codes: [0, 0, 1, 1], labels: ["a", "b", "nobody"] },
    });
    const { pairs } = pairwiseLogRank(withEmpty);
    expect(pairs.map(({ test }) => test.computed)).toEqual([true, false, false]);
    expect(pairs.map(({ adjustedP }) => adjustedP === null)).toEqual([false, true, true]);
    expect(pairs[0]?.test.computed && pairs[0].adjustedP === pairs[0].test.p).toBe(true);
  });
});
