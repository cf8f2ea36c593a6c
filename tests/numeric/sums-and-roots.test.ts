import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { adjustedP } from "../../src/numeric/adjusted-p.ts";
import { preciseSum } from "../../src/numeric/precise-sum.ts";
import { rootBetween } from "../../src/numeric/root-between.ts";

describe("preciseSum()", () => {
  it("keeps what plain addition loses (closed form)", () => {
    expect(preciseSum([1, 1e100, 1, -1e100])).toBe(2);
    expect(preciseSum(new Array(1_000_000).fill(0.1))).toBe(100_000);
    expect(new Array(1_000_000).fill(0.1).reduce((sum: number, value: number) => sum + value, 0)).not.toBe(
      100_000,
    );
  });

  it("adds nothing to 0 and takes typed arrays", () => {
    expect(preciseSum([])).toBe(0);
    expect(preciseSum(Float64Array.of(0.5, 0.25))).toBe(0.75);
  });
});

describe("rootBetween()", () => {
  it("finds roots whose values are known (closed form)", () => {
    const examples: readonly (readonly [(x: number) => number, number, number, number])[] = [
      [(x) => x * x - 2, 0, 2, Math.SQRT2],
      [(x) => Math.exp(x) - 10, -50, 50, Math.LN10],
      [(x) => Math.cos(x), 3, 0, Math.PI / 2],
      [(x) => x * x * x * x * x - 1e-10, 0, 10, 0.01],
      [(x) => (x < 0.3 ? -1 : 1), 0, 1, 0.3],
    ];
    for (const [evaluate, low, high, root] of examples) {
      const found = rootBetween(evaluate, low, high);
      expect(found.converged).toBe(true);
      expect(found.root).toBeCloseTo(root, 11);
    }
  });

  it("returns a bound that is a root, and says how many steps it took", () => {
    expect(rootBetween((x) => x - 1, 1, 5)).toEqual({ root: 1, converged: true, steps: 0 });
    expect(rootBetween((x) => x - 5, 1, 5)).toEqual({ root: 5, converged: true, steps: 0 });
    expect(rootBetween((x) => x * x - 2, 0, 2).steps).toBeLessThan(30);
  });

  it("does not ask again what is known at the bounds", () => {
    const asked: number[] = [];
    const found = rootBetween(
      (x) => {
        asked.push(x);
        return x * x - 2;
      },
      0,
      2,
      { atLow: -2, atHigh: 2 },
    );
    expect(found.root).toBeCloseTo(Math.SQRT2, 11);
    expect(asked).not.toContain(0);
    expect(asked).not.toContain(2);
  });

  it("refuses bounds on one side of the root and a function without a value", () => {
    expect(() => rootBetween((x) => x * x + 1, -1, 1)).toThrow("change its sign");
    expect(() => rootBetween(() => Number.NaN, -1, 1)).toThrow("finite");
  });
});

describe("adjustedP()", () => {
  it("multiplies the smallest by the number of values and never falls below a smaller one (closed form)", () => {
    expect(adjustedP([0.01, 0.04, 0.03], "holm")).toEqual([0.03, 0.06, 0.06]);
    const found = adjustedP([0.01, 0.04, 0.03], "false-discovery-rate");
    expect(found[0]).toBeCloseTo(0.03, 15);
    expect(found[1]).toBeCloseTo(0.04, 15);
    expect(found[2]).toBeCloseTo(0.04, 15);
  });

  it("keeps order, stays in [p, 1] and is milder for the share of false findings (identities)", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 }), (values) => {
        const [holm, share] = [adjustedP(values, "holm"), adjustedP(values, "false-discovery-rate")];
        values.forEach((p, at) => {
          expect(holm[at]).toBeLessThanOrEqual(1);
          expect(share[at]).toBeGreaterThanOrEqual(p);
          expect((holm[at] ?? 0) + 1e-15).toBeGreaterThanOrEqual(share[at] ?? 2);
          values.forEach((other, beside) => {
            if (p <= other) expect(holm[at]).toBeLessThanOrEqual(holm[beside] ?? -1);
          });
        });
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  it("takes none, leaves one alone and refuses what is no probability", () => {
    expect(adjustedP([], "holm")).toEqual([]);
    expect(adjustedP([0.2], "holm")).toEqual([0.2]);
    expect(() => adjustedP([1.2], "holm")).toThrow("between 0 and 1");
    expect(() => adjustedP([Number.NaN], "holm")).toThrow("between 0 and 1");
  });
});
