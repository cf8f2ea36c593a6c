import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { type GrayOptions, grayTest } from "../../src/survival/gray-test.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import {
  codeColumn,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { rowsOf } from "./some-rows.ts";

/** The first cause unless another one is asked for. */
const firstCause = ({ causes: [cause = "event"] = [] }: ObservationColumns) => ({ cause });

function test(columns: ObservationColumns, options: GrayOptions = {}) {
  const answer = grayTest(countsByTime(columns), { ...firstCause(columns), ...options });
  if (!answer.computed) throw new Error(answer.code);
  return answer;
}

describe("grayTest() against reference numbers", () => {
  const rows = referenceRows("mgus2.csv");
  const sex = codeColumn(rows, "sex", ["F", "M"]);
  const age = {
    codes: numberColumn(rows, "age").map((years) => (years < 65 ? 0 : years < 75 ? 1 : 2)),
    labels: ["<65", "65-74", ">=75"],
  };
  const columns = {
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "event"),
    causes: ["cause1", "cause2"],
  };

  it("compares two groups for each of two causes", () => {
    const { expected } = referenceRecord("04_competing_risks", "gray.mgus2_sex");
    for (const cause of columns.causes) {
      const answer = test({ ...columns, group: sex }, { cause });
      expectRelative(answer.chiSquare, expected.gray[cause].stat, 1e-8);
      expectRelative(answer.p, expected.gray[cause].p, 1e-8);
      expect(answer.degreesOfFreedom).toBe(1);
    }
  });

  it("stands beside the cause-specific log-rank, which asks another question", () => {
    const { expected } = referenceRecord("04_competing_risks", "gray.mgus2_sex");
    for (const cause of columns.causes) {
      const answer = logRankTest(countsByTime({ ...columns, group: sex }), { event: [cause] });
      if (!answer.computed) throw new Error(answer.code);
      expectRelative(answer.chiSquare, expected.causeSpecificLogrank[cause].chisq, 1e-8);
    }
  });

  it("compares three groups, plain, within strata and with early ticks stressed", () => {
    const { expected } = referenceRecord("04_competing_risks", "gray.mgus2_age3");
    for (const cause of columns.causes) {
      const plain = test({ ...columns, group: age }, { cause });
      expectRelative(plain.chiSquare, expected.plain[cause].stat, 1e-8);
      const stratified = test({ ...columns, group: age, stratum: sex }, { cause });
      expectRelative(stratified.chiSquare, expected.stratifiedBySex[cause].stat, 1e-8);
      const early = test({ ...columns, group: age }, { cause, power: 1 });
      expectRelative(early.chiSquare, expected.rho1[cause].stat, 1e-8);
    }
    // The reference prints 0 for this p; it is not 0.
    expect(test({ ...columns, group: age }, { cause: "cause2" }).p).toBeGreaterThan(0);
  });

  it("handles ties between causes on ten rows", () => {
    const hand = referenceRows("cif_hand.csv");
    const { expected } = referenceRecord("04_competing_risks", "cif.hand");
    const small = {
      exit: numberColumn(hand, "time"),
      event: numberColumn(hand, "event"),
      group: codeColumn(hand, "group", ["A", "B"]),
      causes: ["one", "two"],
    };
    small.causes.forEach((cause, place) => {
      const answer = test(small, { cause });
      expectRelative(answer.chiSquare, expected.gray.stat[place], 1e-11);
      expectRelative(answer.p, expected.gray.p[place], 1e-11);
    });
  });

  it("keeps a group without the event, and leaves out one that ended before the first event of the cause", () => {
    // Reference (cmprsk 2.2-11) on two invented centres; with a third, of one knee, that program returns −1 and p = 1 for
    // death without a message. The right answer is the one without that knee.
    const two = {
      exit: [100, 155, 210, 265, 320, 375, 430, 485, 90, 180, 260, 340, 430, 500, 560, 610],
      event: [2, 0, 2, 0, 2, 0, 2, 0, 1, 2, 1, 0, 1, 2, 0, 0],
      group: { codes: [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1], labels: ["A", "B"] },
      causes: ["revision", "death"],
    };
    expect(test(two, { cause: "revision" }).chiSquare).toBeCloseTo(2.725750322, 8);
    expect(test(two, { cause: "death" }).chiSquare).toBeCloseTo(3.191004147, 8);
    const three = {
      ...two,
      exit: [...two.exit, 75],
      event: [...two.event, 1],
      group: { codes: [...two.group.codes, 2], labels: ["A", "B", "Z"] },
    };
    expect(test(three, { cause: "revision" })).toMatchObject({ degreesOfFreedom: 2 });
    expect(test(three, { cause: "revision" }).chiSquare).toBeCloseTo(18.04613464, 7);
    const death = test(three, { cause: "death" });
    expect(death.chiSquare).toBeCloseTo(3.191004147, 8);
    expect(death.degreesOfFreedom).toBe(1);
    expect(death.groups.map((group) => group.group)).toEqual(["A", "B", "Z"]);
  });
});

describe("grayTest() keeps its identities", () => {
  it("scores add up to 0 over groups and do not depend on the order of rows or groups", () => {
    const rows = rowsOf(61, { rows: 150, groups: 3, strata: 2, causes: 3, entries: false });
    const answer = test(rows);
    expect(answer.groups.reduce((sum, group) => sum + group.excess, 0)).toBeCloseTo(0, 10);
    const swapped = { ...rows, group: { ...rows.group, codes: rows.group.codes.map((code) => 2 - code) } };
    expect(test(swapped).chiSquare).toBeCloseTo(answer.chiSquare, 9);
  });

  it("comes close to the log-rank where nothing competes", () => {
    // Not an identity: Gray's variance is not hypergeometric. The scores are the same, observed minus expected.
    const rows = rowsOf(62, { rows: 400, groups: 2, strata: 1, causes: 1, entries: false, lastTick: 300 });
    const logRank = logRankTest(countsByTime(rows));
    if (!logRank.computed) throw new Error(logRank.code);
    const answer = test(rows);
    answer.groups.forEach((group, place) => {
      const other = logRank.groups[place];
      expect(group.excess).toBeCloseTo((other?.observed ?? 0) - (other?.expected ?? 0), 9);
    });
    expect(answer.chiSquare / logRank.chiSquare).toBeCloseTo(1, 1);
  });
});

describe("grayTest() at the edges", () => {
  const code = (columns: ObservationColumns, options: GrayOptions = {}) => {
    const answer = grayTest(countsByTime(columns), { ...firstCause(columns), ...options });
    return answer.computed ? "computed" : answer.code;
  };
  const group = { codes: [0, 0, 1, 1], labels: ["A", "B"] };
  const causes = ["revision", "death"];

  it("says why there is no answer", () => {
    expect(code({ exit: [], event: [], causes })).toBe("nothing-to-compare");
    expect(code({ exit: [1, 2, 3, 4], event: [0, 2, 0, 2], group, causes })).toBe("nothing-to-compare");
    expect(code({ exit: [1, 2, 3, 4], event: [1, 1, 1, 1], causes })).toBe("nothing-to-compare");
  });

  it("takes everything on one tick, events on tick 0 and an empty group without failing", () => {
    for (const exit of [
      [0, 0, 0, 0],
      [5, 5, 5, 5],
      [1, 1, 2, 2],
    ]) {
      const answer = grayTest(countsByTime({ exit, event: [1, 2, 1, 1], group, causes }), {
        cause: "revision",
      });
      if (answer.computed)
        expect(Number.isFinite(answer.chiSquare) && answer.p >= 0 && answer.p <= 1).toBe(true);
    }
    const labels = ["A", "B", "empty"];
    expect(
      test({ exit: [1, 2, 1, 4], event: [1, 1, 0, 1], group: { ...group, labels }, causes }).degreesOfFreedom,
    ).toBe(1);
  });

  it("needs no name where there is only one cause", () => {
    const counts = countsByTime({ exit: [1, 2, 3, 4], event: [1, 0, 1, 1], group });
    expect(grayTest(counts)).toEqual(grayTest(counts, { cause: "event" }));
  });

  it("refuses what it is not defined for", () => {
    const columns = { exit: [3, 4, 5, 6], event: [1, 1, 1, 1], group, causes };
    expect(() => code({ ...columns, entry: [1, 1, 1, 1] })).toThrow("delayed entry");
    expect(() => code({ ...columns, weight: { kind: "copies", values: [1, 1, 1, 2] } })).toThrow("weights");
    expect(() => code(columns, { cause: "loosening" })).toThrow('no cause is named "loosening"');
    expect(() => code(columns, { power: Number.NaN })).toThrow("finite");
    expect(() => grayTest(countsByTime(columns))).toThrow("name the cause");
  });
});
