import { describe, expect, it } from "vitest";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { pairwiseLogRank } from "../../src/survival/pairwise-log-rank.ts";
import {
  codeColumn,
  expectAllRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";

import { rowsOf } from "./some-rows.ts";

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

  it("tests each pair of clustered rows on those rows alone", () => {
    // Identity: the same rows picked by hand, in the order of the pair.
    const all = rowsOf(61, { rows: 200, groups: 3, strata: 2, causes: 2, entries: true, clusters: 35 });
    const weight = { kind: "sampling" as const, values: all.exit.map((_, row) => 1 + (row % 2)) };
    const rows = { ...all, weight };
    const { pairs } = pairwiseLogRank(rows, { event: ["cause 1"] });
    expect(pairs).toHaveLength(3);
    for (const { groups, test } of pairs) {
      const wanted = groups.map((label) => rows.group.labels.indexOf(label));
      const kept = [...rows.exit.keys()].filter((row) => wanted.includes(rows.group.codes[row] ?? -1));
      const pick = (values: readonly number[]) => kept.map((row) => values[row] ?? 0);
      const alone = {
        ...rows,
        exit: pick(rows.exit),
        event: pick(rows.event),
        entry: pick(rows.entry ?? []),
        weight: { ...weight, values: pick(weight.values) },
        stratum: { ...rows.stratum, codes: pick(rows.stratum.codes) },
        cluster: { ...rows.cluster, codes: pick(rows.cluster.codes) },
        group: { codes: pick(rows.group.codes).map((code) => wanted.indexOf(code)), labels: groups },
      };
      expect(test).toEqual(clusteredLogRank(alone, { event: ["cause 1"] }));
      expect(test.computed && test.settings.clusteredBy).toBe("surgeon");
    }
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
