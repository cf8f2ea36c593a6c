import { describe, expect, it } from "vitest";
import { normalUpper } from "../../src/numeric/normal.ts";
import { differenceContrast, ratioContrast } from "../../src/survival/contrast.ts";
import { FEW_CLUSTERS, normalReference, referenceFor } from "../../src/survival/few-clusters.ts";

const reference = normalReference(0.95);
const quantile = 1.959963984540054;
const near = (value: number) => expect.closeTo(value, 12);

describe("differenceContrast()", () => {
  it("is first minus second with limits on the plain scale (closed form)", () => {
    expect(differenceContrast(3, 5, 0.8, reference)).toEqual({
      estimate: -2,
      standardError: 0.8,
      lower: near(-2 - 0.8 * quantile),
      upper: near(-2 + 0.8 * quantile),
      p: near(2 * normalUpper(2.5)),
      degreesOfFreedom: null,
    });
  });
});

describe("ratioContrast()", () => {
  it("is first over second with limits on the log scale (closed form)", () => {
    expect(ratioContrast(3, 6, 0.4, reference)).toEqual({
      computed: true,
      estimate: 0.5,
      lower: near(0.5 * Math.exp(-0.4 * quantile)),
      upper: near(0.5 * Math.exp(0.4 * quantile)),
      p: near(2 * normalUpper(Math.log(2) / 0.4)),
      degreesOfFreedom: null,
    });
  });

  it("has no ratio of a value of 0, and no limits beyond all numbers", () => {
    for (const [first, second] of [
      [0, 1],
      [1, 0],
      [-1, 1],
    ] as const) {
      expect(ratioContrast(first, second, 0.1, reference)).toMatchObject({ code: "ratio-of-zero" });
    }
    expect(ratioContrast(2, 1, 1000, reference)).toMatchObject({ code: "limits-beyond-numbers" });
  });
});

describe("referenceFor()", () => {
  it("is normal without clusters and from 30 clusters up, t below, and nothing for one", () => {
    expect(FEW_CLUSTERS).toBe(30);
    for (const clusters of [null, 30, 31]) {
      const normal = referenceFor(clusters, 0.95);
      expect(normal?.degreesOfFreedom).toBeNull();
      expect(normal?.quantile).toBeCloseTo(quantile, 12);
      expect(normal?.p(-quantile)).toBeCloseTo(0.05, 12);
    }
    // Quantiles of t on 28 and on 1 degree of freedom (standard table; the second is tan(0.475 π)).
    expect(referenceFor(29, 0.95)).toMatchObject({
      degreesOfFreedom: 28,
      quantile: expect.closeTo(2.048407, 6),
    });
    expect(referenceFor(2, 0.95)?.quantile).toBeCloseTo(Math.tan(0.475 * Math.PI), 9);
    expect(referenceFor(2, 0.95)?.p(1)).toBeCloseTo(0.5, 12);
    for (const clusters of [1, 0]) expect(referenceFor(clusters, 0.95)).toBeUndefined();
  });
});
