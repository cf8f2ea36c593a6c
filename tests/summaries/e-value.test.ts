import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { eValue } from "../../src/summaries/e-value.ts";
import { referenceRecord } from "../reference/reference-files.ts";

const limits = ([ratio, lower, upper]: readonly number[]) => ({
  ratio: ratio ?? 0,
  lower: lower ?? 0,
  upper: upper ?? 0,
});

describe("eValue()", () => {
  it("is the printed one of the example on breast feeding", () => {
    const { expected, published } = referenceRecord("14_evalue_multiplicity", "evalue.vdw_ding");
    const found = eValue({ ratio: 3.9, lower: 1.8, upper: 8.7 });
    expect(found.estimate).toBeCloseTo(expected.estimate, 12);
    expect(found.limit).toBeCloseTo(expected.limit, 12);
    // published (from memory): VanderWeele and Ding 2017
    expect([found.estimate, found.limit].map((value) => Number(value.toFixed(2)))).toEqual(published.figures);
  });

  it.each([
    ["protective", "protective", {}],
    ["crosses", "crosses", {}],
    ["hrRare", "hazardRatio", { of: "hazard" }],
    ["hrCommon", "hazardRatio", { of: "hazard", outcome: "common" }],
    ["orCommon", "oddsRatio", { of: "odds", outcome: "common" }],
  ] as const)("meets the reference: %s", (name, input, options) => {
    const reference = referenceRecord("14_evalue_multiplicity", "evalue.more");
    const found = eValue(limits((reference.input as Record<string, number[]>)[input] ?? []), options);
    expect(found.estimate).toBeCloseTo(reference.expected[name][0], 11);
    expect(found.limit).toBeCloseTo(reference.expected[name][1], 11);
  });

  it("is 1 for a ratio of 1, and the same for a ratio and its inverse", () => {
    expect(eValue({ ratio: 1, lower: 0.5, upper: 2 })).toMatchObject({ estimate: 1, limit: 1 });
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: 1, max: 5, noNaN: true }),
        fc.constantFrom("risk" as const, "hazard" as const, "odds" as const),
        fc.constantFrom("rare" as const, "common" as const),
        (ratio, spread, of, outcome) => {
          const one = eValue({ ratio, lower: ratio / spread, upper: ratio * spread }, { of, outcome });
          const inverse = eValue(
            { ratio: 1 / ratio, lower: 1 / (ratio * spread), upper: spread / ratio },
            { of, outcome },
          );
          expect(inverse.estimate / one.estimate).toBeCloseTo(1, 9);
          expect(inverse.limit / one.limit).toBeCloseTo(1, 9);
          expect(one.limit).toBeLessThanOrEqual(one.estimate * (1 + 1e-12));
        },
      ),
      { numRuns: 200 },
    );
  });

  it("is what makes the bounding factor reach the ratio", () => {
    // Ding and VanderWeele 2016: two ratios u and v can explain at most u v / (u + v − 1).
    for (const ratio of [1.1, 2, 7.5]) {
      const { estimate } = eValue({ ratio, lower: ratio, upper: ratio });
      expect((estimate * estimate) / (2 * estimate - 1)).toBeCloseTo(ratio, 10);
    }
  });

  it("stands at the ends of what numbers can hold", () => {
    const far = eValue({ ratio: 1e300, lower: 1e299, upper: 1e301 });
    expect(far.estimate).toBeCloseTo(2e300, -290);
    expect(Number.isFinite(eValue({ ratio: 1e-300, lower: 1e-301, upper: 1e-299 }).estimate)).toBe(true);
  });

  it.each([
    [{ ratio: 0, lower: 0.5, upper: 2 }, /ratio must be a finite number above 0/],
    [{ ratio: 2, lower: -1, upper: 3 }, /lower must be/],
    [{ ratio: 2, lower: 1, upper: Number.NaN }, /upper must be/],
    [{ ratio: 2, lower: 2.5, upper: 3 }, /limits must hold the ratio/],
    [{ ratio: 1e308, lower: 1, upper: 1.1e308 }, /must be a finite number/],
  ])("refuses %j", (given, words) => {
    expect(() => eValue(given)).toThrow(words);
  });
});
