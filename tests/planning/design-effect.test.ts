import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { designEffect } from "../../src/planning/design-effect.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";

function factor(...args: Parameters<typeof designEffect>): number {
  const answer = designEffect(...args);
  if (!answer.computed) throw new Error(answer.code);
  return answer.factor;
}

describe("designEffect()", () => {
  it("agrees with the reference for equal and unequal clusters (reference: R)", () => {
    const { input, expected } = referenceRecord("11_sample_size", "ss.design_effect");
    const { meanCluster, icc, cv } = input as Record<"meanCluster" | "icc" | "cv", number[]>;
    meanCluster.forEach((meanSize, at) => {
      const intraclass = icc[at] ?? 0;
      const unequal = factor({ meanSize, variation: cv[at] ?? 0 }, { intraclass });
      expectRelative(unequal, expected.deff[at], 1e-12);
      expectRelative(factor({ meanSize, variation: 0 }, { intraclass }), expected.deffEqual[at], 1e-12);
      expectRelative(10_000 / unequal, expected.effectiveOf10000[at], 1e-12);
    });
  });

  it.each([
    [50, 0.05, 3.45],
    [200, 0.02, 4.98],
  ])("is 1 + (m − 1)ρ for clusters of %d (closed form)", (size, intraclass, expected) => {
    expect(factor({ sizes: [size, size, size] }, { intraclass })).toBeCloseTo(expected, 12);
  });

  it("gives sizes and their moments one answer (identity)", () => {
    const sizes = [1, 3, 3, 9, 40];
    const mean = sizes.reduce((sum, size) => sum + size, 0) / sizes.length;
    const variance = sizes.reduce((sum, size) => sum + (size - mean) * (size - mean), 0) / sizes.length;
    const moments = { meanSize: mean, variation: Math.sqrt(variance) / mean };
    expectRelative(factor(moments, { intraclass: 0.1 }), factor({ sizes }, { intraclass: 0.1 }), 1e-13);
  });

  it("is 1 for clusters of one and for clusters that are not alike", () => {
    expect(factor({ sizes: [1, 1, 1] }, { intraclass: 0.4 })).toBe(1);
    expect(factor({ sizes: [5, 50] }, { intraclass: 0 })).toBe(1);
  });

  it("has no answer without units and refuses what cannot be", () => {
    expect(designEffect({ sizes: [] }, { intraclass: 0.1 })).toMatchObject({ code: "no-units" });
    expect(designEffect({ sizes: [0, 0] }, { intraclass: 0.1 })).toMatchObject({ code: "no-units" });
    expect(() => designEffect({ sizes: [2.5] }, { intraclass: 0.1 })).toThrow(ArgumentError);
    expect(() => designEffect({ sizes: [2] }, { intraclass: -0.1 })).toThrow(ArgumentError);
    expect(() => designEffect({ meanSize: 0.5, variation: 0 }, { intraclass: 0.1 })).toThrow(ArgumentError);
  });
});
