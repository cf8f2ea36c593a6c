import { describe, expect, it } from "vitest";
import { binomialLimits, binomialLower, binomialUpper } from "../../src/numeric/binomial.ts";
import { poissonLimits, poissonLower, poissonUpper } from "../../src/numeric/poisson.ts";
import { expectPrinted, expectRelative } from "../reference/record.ts";

describe("binomialLimits()", () => {
  // [count, trials, lower, upper] to ten digits (reference: R binom.test).
  const examples = [
    [1, 250, 0.0001012661042, 0.022083865],
    [3, 20000, 3.093467445e-5, 0.0004383004534],
    [19997, 20000, 0.9995616995, 0.9999690653],
    [150, 300000, 0.000423202754492, 0.000586698443138],
  ] as const;
  for (const [count, trials, lower, upper] of examples) {
    it(`keeps ${count} of ${trials} to nine digits (reference: R)`, () => {
      const limits = binomialLimits(count, trials);
      expectRelative(limits.lower, lower, 1e-9);
      expectRelative(limits.upper, upper, 1e-9);
    });
  }

  it("is exactly 0 below for no success and exactly 1 above for nothing else (closed form)", () => {
    expect(binomialLimits(0, 12).lower).toBe(0);
    expectRelative(binomialLimits(0, 12).upper, 1 - Math.exp(Math.log(0.025) / 12), 1e-14);
    expectRelative(binomialLimits(0, 20).upper, 0.168433471, 1e-9);
    expect(binomialLimits(12, 12).upper).toBe(1);
    expectRelative(binomialLimits(12, 12).lower, 0.7353515306, 1e-9);
    expect(binomialLimits(0, 1)).toEqual({ lower: 0, upper: 0.975 });
    expectRelative(binomialLimits(1, 1).lower, 0.025, 1e-14);
  });

  it("leaves exactly half of what the level leaves over in each tail (identity)", () => {
    for (const [count, trials] of [
      [1, 5],
      [7, 61],
      [3, 4120],
      [2500, 5000],
    ] as const) {
      const { lower, upper } = binomialLimits(count, trials, { level: 0.9 });
      expectRelative(binomialUpper(count, trials, lower), 0.05, 1e-10);
      expectRelative(binomialLower(count, trials, upper), 0.05, 1e-10);
    }
  });

  it("mirrors: limits of the failures are one minus those of the successes (identity)", () => {
    const [some, others] = [binomialLimits(7, 61), binomialLimits(54, 61)];
    expect(some.lower).toBeCloseTo(1 - others.upper, 14);
    expect(some.upper).toBeCloseTo(1 - others.lower, 14);
  });

  it("refuses 0 of 0, more successes than trials and a percentage as level", () => {
    expect(() => binomialLimits(0, 0)).toThrow("trials must be above 0");
    expect(() => binomialLimits(3, 2)).toThrow("between 0 and trials");
    expect(() => binomialLimits(Number.NaN, 2)).toThrow("between 0 and trials");
    expect(() => binomialLimits(1, 2, { level: 95 })).toThrow("write 0.95 for 95 %");
  });
});

describe("poissonLimits()", () => {
  it("prints the usual table of exact 95 % limits (closed form, chi-square quantiles)", () => {
    const table = [
      [0, 0, 3.6889],
      [1, 0.0253, 5.5716],
      [3, 0.6187, 8.7673],
      [7, 2.8144, 14.4227],
      [10, 4.7954, 18.3904],
      [20, 12.2165, 30.8884],
      [40, 28.5766, 54.4686],
    ] as const;
    for (const [count, lower, upper] of table) {
      const limits = poissonLimits(count);
      expectPrinted([limits.lower, limits.upper], [lower, upper], 4);
    }
  });

  it("is −log 0.025 above for no event (closed form)", () => {
    expectRelative(poissonLimits(0).upper, -Math.log(0.025), 1e-14);
    expect(poissonLimits(0).lower).toBe(0);
  });

  it("leaves exactly half of what the level leaves over in each tail, for a million events too (identity)", () => {
    for (const count of [1, 61, 12000, 1_000_000]) {
      const { lower, upper } = poissonLimits(count, { level: 0.99 });
      expectRelative(poissonUpper(count, lower), 0.005, 1e-8);
      expectRelative(poissonLower(count, upper), 0.005, 1e-8);
    }
  });

  it("refuses what is no count", () => {
    expect(() => poissonLimits(1.5)).toThrow("whole number");
    expect(() => poissonLower(-1, 2)).toThrow("whole number");
    expect(() => poissonUpper(1, -2)).toThrow("must not be negative");
  });
});

describe("binomial and Poisson tails", () => {
  it("add up to 1 with the tail beyond (identity)", () => {
    for (const count of [0, 1, 5, 9]) {
      expect(binomialLower(count, 10, 0.3) + binomialUpper(count + 1, 10, 0.3)).toBeCloseTo(1, 14);
      expect(poissonLower(count, 3.2) + poissonUpper(count + 1, 3.2)).toBeCloseTo(1, 14);
    }
  });

  it("hold at the ends: no count, all counts, probabilities 0 and 1", () => {
    expect([binomialLower(10, 10, 0.3), binomialUpper(0, 10, 0.3), poissonUpper(0, 4)]).toEqual([1, 1, 1]);
    expect([binomialLower(3, 10, 0), binomialLower(3, 10, 1)]).toEqual([1, 0]);
    expect([poissonLower(3, 0), poissonUpper(3, 0)]).toEqual([1, 0]);
  });
});
