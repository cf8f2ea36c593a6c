import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { proportionDifference } from "../../src/summaries/proportion-difference.ts";
import { proportionInterval } from "../../src/summaries/proportion-interval.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";

const single = referenceRecord("08_groups", "prop.single").expected;
const hybrid = referenceRecord("08_groups", "prop.newcombe_difference");

function limits(count: number, total: number, method: "wilson" | "exact", level = 0.95): [number, number] {
  const answer = proportionInterval({ count, total }, { method, level });
  if (!answer.computed) throw new Error(answer.code);
  return [answer.low, answer.high];
}

describe("proportionInterval()", () => {
  it.each(Object.keys(single.wilson))(
    "agrees for %s with both methods (reference: R; Newcombe 1998 prints the same, from memory)",
    (text) => {
      const [count = 0, total = 0] = text.split("/").map(Number);
      for (const [method, expected] of [
        ["wilson", single.wilson],
        ["exact", single.clopperPearson],
      ] as const) {
        const [low, high] = limits(count, total, method);
        expectRelative(low, expected[text].lower, 1e-11);
        expectRelative(high, expected[text].upper, 1e-11);
      }
    },
  );

  it.each([
    [0, 12, 0, 0.2424940067, 0, 0.2646484694],
    [12, 12, 0.7575059933, 1, 0.7353515306, 1],
    [1, 250, 0.0007064475341, 0.02230578557, 0.0001012661042, 0.022083865],
    [0, 1, 0, 0.7934506856, 0, 0.975],
    [1, 1, 0.2065493144, 1, 0.025, 1],
    [3, 20_000, 5.101481799e-5, 0.0004409636273, 3.093467445e-5, 0.0004383004534],
    [19_997, 20_000, 0.9995590364, 0.9999489852, 0.9995616995, 0.9999690653],
  ])(
    "holds at the ends and in large groups: %d of %d (reference: R, ten digits)",
    (count, total, ...expected) => {
      const found = [...limits(count, total, "wilson"), ...limits(count, total, "exact")];
      expectAllRelative(found, expected, 1e-8);
    },
  );

  it("gives 150 of 300,000 exact limits (reference: R, twelve digits)", () => {
    const [low, high] = limits(150, 300_000, "exact");
    expectRelative(low, 0.000423202754492, 1e-11);
    expectRelative(high, 0.000586698443138, 1e-11);
  });

  it("has no share of nobody", () => {
    for (const method of ["wilson", "exact"] as const) {
      expect(proportionInterval({ count: 0, total: 0 }, { method })).toMatchObject({
        computed: false,
        code: "no-cases",
      });
    }
  });

  it("is the same seen from the other side, and wider at a higher level (identities)", () => {
    for (const method of ["wilson", "exact"] as const) {
      const [low, high] = limits(7, 61, method);
      const [otherLow, otherHigh] = limits(54, 61, method);
      expect(1 - otherHigh).toBeCloseTo(low, 14);
      expect(1 - otherLow).toBeCloseTo(high, 14);
      const [wideLow, wideHigh] = limits(7, 61, method, 0.998);
      expect(wideLow < low && wideHigh > high).toBe(true);
    }
  });

  it("meets Wilson's defining equation at both limits (identity)", () => {
    const z = 1.959963984540054;
    for (const limit of limits(17, 61, "wilson")) {
      expect(Math.abs(17 / 61 - limit)).toBeCloseTo(z * Math.sqrt((limit * (1 - limit)) / 61), 12);
    }
  });

  it("states level and method, and refuses what cannot be", () => {
    expect(proportionInterval({ count: 1, total: 2 })).toMatchObject({
      share: 0.5,
      level: 0.95,
      method: "wilson",
    });
    expect(() => proportionInterval({ count: 3, total: 2 })).toThrow(ArgumentError);
    expect(() => proportionInterval({ count: 0.5, total: 2 })).toThrow(ArgumentError);
    expect(() => proportionInterval({ count: 1, total: 2 }, { level: 95 })).toThrow(/0\.95/);
  });
});

describe("proportionDifference()", () => {
  it.each(Object.entries(hybrid.input as Record<string, [number, number, number, number]>))(
    "agrees for pair %s (reference: R; Newcombe 1998, table II, prints the same, from memory)",
    (key, [a, m, b, n]) => {
      const answer = proportionDifference({ count: a, total: m }, { count: b, total: n });
      if (!answer.computed) throw new Error(answer.code);
      const expected = hybrid.expected[key];
      expectRelative(answer.difference, expected.difference, 1e-11);
      expectRelative(answer.low, expected.lower, 1e-11);
      expectRelative(answer.high, expected.upper, 1e-11);
    },
  );

  it("turns round with the groups (identity)", () => {
    const [first, second] = [
      { count: 17, total: 61 },
      { count: 7, total: 61 },
    ];
    const there = proportionDifference(first, second);
    const back = proportionDifference(second, first);
    if (!there.computed || !back.computed) throw new Error("not computed");
    expect([back.difference, back.low, back.high]).toEqual([-there.difference, -there.high, -there.low]);
  });

  it("stays within −1 and 1 in every small table", () => {
    for (let m = 1; m <= 6; m += 1) {
      for (let n = 1; n <= 6; n += 1) {
        for (let a = 0; a <= m; a += 1) {
          for (let b = 0; b <= n; b += 1) {
            const answer = proportionDifference({ count: a, total: m }, { count: b, total: n });
            if (!answer.computed) throw new Error(answer.code);
            const { low, difference, high } = answer;
            expect(low >= -1 && low <= difference && difference <= high && high <= 1).toBe(true);
            expect(low < high).toBe(true);
          }
        }
      }
    }
  });

  it("has no answer where a group holds nobody", () => {
    expect(proportionDifference({ count: 0, total: 0 }, { count: 1, total: 2 })).toMatchObject({
      code: "no-cases",
    });
  });
});
