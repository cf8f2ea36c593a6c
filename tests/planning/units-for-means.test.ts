import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { eventsForMeasure } from "../../src/planning/events-for-measure.ts";
import { unitsForMeans } from "../../src/planning/units-for-means.ts";
import { unitsForProportion, unitsForProportions } from "../../src/planning/units-for-proportions.ts";
import { expectPrinted, expectRelative, referenceRecord } from "../reference/record.ts";

describe("unitsForMeans()", () => {
  it.each([
    [0.5, 76],
    [0.3, 212],
  ])(
    "needs for a depth that differs by %d mm, spread 1.1 mm: %d a group (worked out beforehand)",
    (difference, units) => {
      expect(unitsForMeans({ difference, standardDeviation: 1.1 })).toMatchObject({
        computed: true,
        units: [units, units],
      });
    },
  );

  it("is (a + b)²·2σ²/δ² a group for equal groups (closed form)", () => {
    const answer = unitsForMeans({ difference: -2, standardDeviation: 3, power: 0.9, level: 0.01 });
    // Normal quantiles of 0.995 and 0.9 from a printed table.
    const distance = 2.575_829_303_5 + 1.281_551_565_5;
    if (!answer.computed) throw new Error(answer.code);
    expectRelative(answer.unrounded, (4 * 9 * distance * distance) / 4, 1e-9);
  });

  it("divides unequal groups by their share and asks for more of both together (identity)", () => {
    const answer = unitsForMeans({ difference: 1, standardDeviation: 2, exposedShare: 0.2 });
    const equal = unitsForMeans({ difference: 1, standardDeviation: 2 });
    if (!answer.computed || !equal.computed) throw new Error("both have an answer");
    expectRelative(answer.unrounded, (equal.unrounded * 0.25) / 0.16, 1e-12);
    expect(answer.units).toEqual([Math.ceil(answer.unrounded / 5), Math.ceil(0.8 * answer.unrounded)]);
  });

  it("has no answer for no difference, an empty group or beyond counting", () => {
    expect(unitsForMeans({ difference: 0, standardDeviation: 1 })).toMatchObject({ code: "no-difference" });
    expect(unitsForMeans({ difference: 1, standardDeviation: 1, exposedShare: 0 })).toMatchObject({
      code: "one-group",
    });
    expect(unitsForMeans({ difference: 1e-200, standardDeviation: 1 })).toMatchObject({
      code: "out-of-range",
    });
  });

  it.each([
    { difference: Number.NaN, standardDeviation: 1 },
    { difference: 1, standardDeviation: 0 },
    { difference: 1, standardDeviation: 1, power: 1.2 },
    { difference: 1, standardDeviation: 1, level: 95 },
    { difference: 1, standardDeviation: 1, exposedShare: -0.1 },
  ])("refuses %j", (input) => {
    expect(() => unitsForMeans(input)).toThrow(ArgumentError);
  });
});

describe("unitsForProportions()", () => {
  it.each([
    [0.4, 0.25, 150],
    [0.4, 0.3, 354],
  ])("needs for lines in %d against %d of films: %d a group (worked out beforehand)", (one, two, units) => {
    expect(unitsForProportions({ proportions: [one, two] })).toMatchObject({ units: [units, units] });
  });

  it("plans the pooled test: 76.7 a group for 0.5 against 0.75 with power 0.9 (published: worked example in the help page of R's planning function for two proportions)", () => {
    const answer = unitsForProportions({ proportions: [0.5, 0.75], power: 0.9, variance: "pooled" });
    if (!answer.computed) throw new Error(answer.code);
    expectPrinted([answer.unrounded / 2], [76.7], 1);
  });

  it("takes the groups in either order (identity)", () => {
    for (const variance of ["own", "pooled"] as const) {
      const one = unitsForProportions({ proportions: [0.9, 0.8], exposedShare: 0.3, variance });
      const other = unitsForProportions({ proportions: [0.8, 0.9], exposedShare: 0.7, variance });
      if (!one.computed || !other.computed) throw new Error("both have an answer");
      expectRelative(one.unrounded, other.unrounded, 1e-12);
    }
  });

  it("can plan for 0 against something, and has no answer for equal proportions", () => {
    expect(unitsForProportions({ proportions: [0, 0.1] })).toMatchObject({ computed: true });
    expect(unitsForProportions({ proportions: [0.3, 0.3] })).toMatchObject({ code: "no-difference" });
    expect(unitsForProportions({ proportions: [0.3, 0.4], exposedShare: 1 })).toMatchObject({
      code: "one-group",
    });
  });

  it("refuses proportions outside 0 to 1 and unknown variances", () => {
    expect(() => unitsForProportions({ proportions: [40, 25] })).toThrow(ArgumentError);
    // @ts-expect-error a name that is none
    expect(() => unitsForProportions({ proportions: [0.4, 0.2], variance: "both" })).toThrow(ArgumentError);
  });
});

describe("unitsForProportion()", () => {
  it("needs 385 to state a half to within five points (closed form: 1.96²/4/0.05²)", () => {
    expect(unitsForProportion({ proportion: 0.5, margin: 0.05 })).toMatchObject({ units: 385 });
  });

  it("has no answer for everybody or nobody, and refuses a margin of 0", () => {
    expect(unitsForProportion({ proportion: 1, margin: 0.05 })).toMatchObject({ code: "no-spread" });
    expect(unitsForProportion({ proportion: 0.5, margin: 1e-12 })).toMatchObject({ code: "out-of-range" });
    expect(() => unitsForProportion({ proportion: 0.5, margin: 0 })).toThrow(ArgumentError);
    expect(() => unitsForProportion({ proportion: 0.5, margin: 0.1, level: 95 })).toThrow(ArgumentError);
  });
});

describe("eventsForMeasure()", () => {
  const { input, expected, published } = referenceRecord("11_sample_size", "ss.hsieh_lavori");
  const { sd, logHR, r2, alpha1, power } = input as Record<
    "sd" | "logHR" | "r2" | "alpha1" | "power",
    number
  >;
  const settings = {
    hazardRatio: Math.exp(logHR),
    standardDeviation: sd,
    level: alpha1,
    power,
    sided: "one-sided",
  } as const;

  it("plans the myeloma study of Hsieh and Lavori (published: 64 and 78 events; reference: R)", () => {
    const alone = eventsForMeasure(settings);
    const adjusted = eventsForMeasure({ ...settings, explainedShare: r2 });
    if (!alone.computed || !adjusted.computed) throw new Error("both have an answer");
    expectRelative(alone.unrounded, expected.unadjusted, 1e-11);
    expectRelative(adjusted.unrounded, expected.adjusted, 1e-11);
    expect([alone.events, adjusted.events]).toEqual([
      published.figures.unadjusted,
      published.figures.adjusted,
    ]);
    expect(Math.ceil(adjusted.events / (input as { eventRate: number }).eventRate)).toBe(published.figures.n);
  });

  it("has no answer for a ratio of 1, and refuses adjusters that explain everything", () => {
    expect(eventsForMeasure({ ...settings, hazardRatio: 1 })).toMatchObject({ code: "no-difference" });
    expect(() => eventsForMeasure({ ...settings, explainedShare: 1 })).toThrow(ArgumentError);
    expect(() => eventsForMeasure({ ...settings, standardDeviation: -1 })).toThrow(ArgumentError);
  });
});
