import { describe, expect, it } from "vitest";
import { exactRateComparison } from "../../src/survival/exact-rate-comparison.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";

const found = (answer: { computed: boolean; value?: number }) => (answer.computed ? answer.value : undefined);

interface Input {
  readonly a: number;
  readonly Ta: number;
  readonly b: number;
  readonly Tb: number;
}

// biome-ignore lint/suspicious/noExplicitAny: the shape of a reference record is its own
function expectRecord({ a, Ta, b, Tb }: Input, expected: any): void {
  const [first, second] = [
    { events: a, unitYears: Ta },
    { events: b, unitYears: Tb },
  ];
  const exact = exactRateComparison(first, second);
  const mid = exactRateComparison(first, second, { method: "mid-p" });
  expectRelative(exact.lower, expected.exactLower, 1e-8);
  expectRelative(mid.lower, expected.midPLower, 1e-8);
  expectRelative(exact.p, expected.exactPTwiceSmaller, 1e-8);
  expectRelative(mid.p, expected.midPTwice, 1e-8);
  if (expected.exactUpper === "Inf") {
    expect(exact.upper).toMatchObject({ computed: false, code: "no-events-to-compare-with" });
    expect(exact.ratio.computed).toBe(false);
    expect(mid.upper.computed).toBe(false);
  } else {
    expectRelative(found(exact.ratio), expected.rateRatio, 1e-12);
    expectRelative(found(exact.upper), expected.exactUpper, 1e-8);
    expectRelative(found(mid.upper), expected.midPUpper, 1e-8);
  }
  if (!exact.difference.computed) throw new Error("a difference was expected");
  expectRelative(exact.difference.per100, 100 * expected.rateDifference, 1e-8);
  expectRelative(exact.difference.lower, 100 * expected.rateDifferenceWald[0], 1e-8);
  expectRelative(exact.difference.upper, 100 * expected.rateDifferenceWald[1], 1e-8);
}

describe("exactRateComparison()", () => {
  it("gives ratio, exact and mid-P limits, p and difference of 41 events against 15", () => {
    // Reference; 41 and 15 cases are in the summary of Boice and Monson 1977; the ratio 1.86 (Rothman) is from memory.
    const { input, expected } = referenceRecord("07_rates", "rate.ratio_rothman");
    expectRecord(input as Input, expected);
  });

  it("has a lower limit of 0, or no upper limit, where one group has no event", () => {
    const { input, expected } = referenceRecord("07_rates", "rate.ratio_zero");
    const cases = input as Record<"case1" | "case2", Input>;
    expectRecord(cases.case1, expected.case1);
    expectRecord(cases.case2, expected.case2);
  });

  it("excludes nothing where neither group has an event", () => {
    const none = exactRateComparison({ events: 0, unitYears: 10 }, { events: 0, unitYears: 20 });
    expect(none).toMatchObject({ lower: 0, p: 1, per100: [0, 0] });
    expect([none.ratio.computed, none.upper.computed, none.difference.computed]).toEqual([
      false,
      false,
      false,
    ]);
  });

  it("finds no difference between equal rates (exact binomial limits of 5 in 10, 0.1871 and 0.8129, from memory)", () => {
    const same = { events: 5, unitYears: 10 };
    const equal = exactRateComparison(same, same);
    expect(equal.p).toBe(1);
    expect(found(equal.ratio)).toBe(1);
    expect(equal.lower).toBeCloseTo(0.1871 / 0.8129, 3);
    expect(found(equal.upper)).toBeCloseTo(0.8129 / 0.1871, 2);
  });

  it("turns into one over itself when the groups change places", () => {
    const [a, b] = [
      { events: 3, unitYears: 120.5 },
      { events: 9, unitYears: 80 },
    ];
    for (const method of ["exact", "mid-p"] as const) {
      const [forward, back] = [exactRateComparison(a, b, { method }), exactRateComparison(b, a, { method })];
      expectRelative(1 / forward.lower, found(back.upper) ?? 0, 1e-11);
      expectRelative(forward.p, back.p, 1e-12);
    }
  });

  it("rejects at 5 % exactly when the 95 % limits leave out 1", () => {
    for (const method of ["exact", "mid-p"] as const) {
      for (let events = 0; events <= 25; events++) {
        const one = exactRateComparison({ events, unitYears: 3 }, { events: 10, unitYears: 2 }, { method });
        const leavesOut = one.lower > 1 || (found(one.upper) ?? 2) < 1;
        expect(one.p < 0.05, `${events} events, ${method}`).toBe(leavesOut);
      }
    }
  });

  it("refuses counts that are not whole and times that are not above 0", () => {
    const good = { events: 1, unitYears: 1 };
    expect(() => exactRateComparison({ events: 1.5, unitYears: 1 }, good)).toThrow("whole number");
    expect(() => exactRateComparison(good, { events: 1, unitYears: 0 })).toThrow("above 0");
    expect(() => exactRateComparison(good, good, { level: 95 })).toThrow("write 0.95");
  });
});
