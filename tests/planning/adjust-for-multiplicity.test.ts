import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { adjustForMultiplicity } from "../../src/planning/adjust-for-multiplicity.ts";
import { expectAllRelative, referenceRecord } from "../reference/record.ts";

const SEED = 20_240_611;

/** The definitions, word by word: for each p the worst over what must not be undercut. */
function holmTwin(p: readonly number[]): number[] {
  return p.map((own) => {
    const smaller = p.filter((other) => other <= own);
    return Math.max(...smaller.map((q) => Math.min(1, p.filter((other) => other >= q).length * q)));
  });
}
function discoveryTwin(p: readonly number[]): number[] {
  return p.map((own) => {
    const larger = p.filter((other) => other >= own);
    return Math.min(1, ...larger.map((q) => (p.length * q) / p.filter((other) => other <= q).length));
  });
}

describe("adjustForMultiplicity()", () => {
  it.each(["multiplicity.bh1995", "multiplicity.ties_order"])("agrees with %s (reference: R)", (id) => {
    const { input, expected } = referenceRecord("14_evalue_multiplicity", id);
    const { p } = input as { p: number[] };
    expectAllRelative(adjustForMultiplicity(p).adjusted, expected.holm, 1e-12);
    expectAllRelative(
      adjustForMultiplicity(p, { method: "false-discovery-rate" }).adjusted,
      expected.bh,
      1e-12,
    );
  });

  it("rejects four of the fifteen hypotheses of Benjamini and Hochberg 1995 (published)", () => {
    const { input } = referenceRecord("14_evalue_multiplicity", "multiplicity.bh1995");
    const { adjusted } = adjustForMultiplicity((input as { p: number[] }).p, {
      method: "false-discovery-rate",
    });
    expect(adjusted.filter((p) => p <= 0.05)).toHaveLength(4);
  });

  it("agrees with the definitions written out (twin, seeded)", () => {
    const values = fc.array(fc.integer({ min: 0, max: 40 }), { maxLength: 12 });
    fc.assert(
      fc.property(values, (whole) => {
        // Fortieths make ties common.
        const p = whole.map((value) => value / 40);
        const near = (twin: number[], ours: readonly number[]) => {
          expect(ours.map((value, at) => Math.abs(value - (twin[at] ?? -1)) < 1e-13)).not.toContain(false);
        };
        near(holmTwin(p), adjustForMultiplicity(p).adjusted);
        near(discoveryTwin(p), adjustForMultiplicity(p, { method: "false-discovery-rate" }).adjusted);
      }),
      { seed: SEED },
    );
  });

  it("leaves one p-value, and none, as they are", () => {
    expect(adjustForMultiplicity([0.03]).adjusted).toEqual([0.03]);
    expect(adjustForMultiplicity([]).adjusted).toEqual([]);
  });

  it("leaves the caller's array alone and refuses what is no p-value", () => {
    const p = [0.04, 0.01];
    adjustForMultiplicity(p);
    expect(p).toEqual([0.04, 0.01]);
    for (const wrong of [-0.1, 1.1, Number.NaN]) {
      expect(() => adjustForMultiplicity([wrong])).toThrow(ArgumentError);
    }
  });
});
