import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { COUNT_LIMIT_METHODS, countLimits } from "../../src/survival/count-limits.ts";
import {
  type ObservedAgainstExpectedOptions,
  observedAgainstExpected,
} from "../../src/survival/observed-against-expected.ts";
import { expectRelative, numberColumn, referenceRecord, referenceRows } from "../reference/record.ts";

function ratioOf(observed: number, expected: number, options: ObservedAgainstExpectedOptions = {}) {
  const answer = observedAgainstExpected(observed, expected, options);
  if (!answer.computed) throw new Error(answer.code);
  return answer;
}

describe("observedAgainstExpected() against reference numbers", () => {
  it("gives the ratio of four units with exact, mid-P and Byar limits", () => {
    const rows = referenceRows("observed_expected.csv");
    const expected = numberColumn(rows, "expected");
    const reference = referenceRecord("07_rates", "smr.units").expected;
    numberColumn(rows, "observed").forEach((observed, at) => {
      const wanted = reference[rows[at]?.unit ?? ""];
      for (const [method, limits] of [
        ["exact", wanted.exact],
        ["mid-p", wanted.midP],
        ["byar", wanted.byar],
      ] as const) {
        const ours = ratioOf(observed, expected[at] ?? 0, { method });
        expectRelative(ours.ratio, wanted.smr, 1e-14);
        expectRelative(ours.lower, limits.lower, 1e-9);
        expectRelative(ours.upper, limits.upper, 1e-9);
        if (method !== "mid-p") expectRelative(ours.p, wanted.pExactTwice, 1e-9);
      }
    });
  });

  it("gives Byar limits of counts from 0 to 1000 at three levels", () => {
    const { input, expected } = referenceRecord("07_rates", "rate.exact_limits");
    const { counts } = input as { counts: number[] };
    for (const percent of [90, 95, 99]) {
      counts.forEach((count, at) => {
        const { lower, upper } = countLimits(count, percent / 100, "byar");
        const { byarLower, byarUpper } = expected[percent];
        expectRelative(upper, byarUpper[at], 1e-10);
        // At 99 % the cube root of one event is below 0, and its cube a negative count: we stop at 0.
        expectRelative(lower, Math.max(0, byarLower[at]), 1e-10);
      });
    }
  });
});

describe("observedAgainstExpected() keeps its identities", () => {
  it("has mid-P limits inside the exact ones, round the ratio, and p below 1 − level exactly when they leave 1 out", () => {
    fc.assert(
      fc.property(fc.nat(400), fc.double({ min: 0.01, max: 500, noNaN: true }), (observed, expected) => {
        const [exact, mid] = [ratioOf(observed, expected), ratioOf(observed, expected, { method: "mid-p" })];
        expect(exact.lower).toBeLessThanOrEqual(mid.lower);
        expect(mid.upper).toBeLessThan(exact.upper);
        for (const { ratio, lower, upper, p } of [exact, mid]) {
          expect(lower <= ratio && ratio < upper).toBe(true);
          const leavesOneOut = lower > 1 || upper < 1;
          // A limit may come to lie on 1 within the last digits of its search.
          if (Math.min(Math.abs(lower - 1), Math.abs(upper - 1)) > 1e-9) expect(p < 0.05).toBe(leavesOneOut);
        }
      }),
      { seed: 20_260_201, numRuns: 200 },
    );
  });

  it("has the mid-P upper limit −log(1 − level) over expected where nothing was seen (closed form)", () => {
    expectRelative(ratioOf(0, 2, { method: "mid-p" }).upper, -Math.log(0.05) / 2, 1e-13);
    expectRelative(ratioOf(0, 2).upper, -Math.log(0.025) / 2, 1e-13);
  });

  it("halves its limits when twice as many were expected", () => {
    for (const method of COUNT_LIMIT_METHODS) {
      const [one, two] = [ratioOf(9, 5, { method }), ratioOf(9, 10, { method })];
      expectRelative(two.lower, one.lower / 2, 1e-15);
      expectRelative(two.upper, one.upper / 2, 1e-15);
    }
  });
});

describe("observedAgainstExpected() at the edges", () => {
  it("has no ratio where nothing was expected, whatever was seen", () => {
    for (const observed of [0, 3]) {
      expect(observedAgainstExpected(observed, 0)).toMatchObject({
        computed: false,
        code: "nothing-expected",
      });
    }
    expect(observedAgainstExpected(1000, Number.MIN_VALUE)).toMatchObject({ code: "nothing-expected" });
  });

  it("refuses what is no count, no expected number, no level and no method", () => {
    for (const observed of [-1, 1.5, Number.NaN]) {
      expect(() => observedAgainstExpected(observed, 1)).toThrow("observed");
    }
    for (const expected of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => observedAgainstExpected(1, expected)).toThrow("expected");
    }
    expect(() => observedAgainstExpected(1, 1, { level: 95 })).toThrow("write 0.95 for 95 %");
    expect(() => observedAgainstExpected(1, 1, { method: "wald" as "exact" })).toThrow("exact, mid-p, byar");
  });
});
