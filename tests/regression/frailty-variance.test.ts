import { describe, expect, it } from "vitest";
import {
  type FrailtyFitAt,
  likeliestVariance,
  varianceLimits,
} from "../../src/regression/frailty-variance.ts";
import { expectRelative } from "../reference/record.ts";

/** Fits that know nothing but a slope and a likelihood: all that the search looks at. */
function fits(slope: (variance: number) => number, likelihood: (variance: number) => number = () => 0) {
  return (variance: number) =>
    ({ variance, slope: slope(variance), logLikelihood: likelihood(variance) }) as FrailtyFitAt;
}

describe("likeliestVariance()", () => {
  it.each([0.003, 0.07, 0.3, 2, 900])("finds where the slope is 0, at %d", (top) => {
    expectRelative(
      likeliestVariance(
        fits((variance) => top - variance),
        1,
      ),
      top,
      1e-7,
    );
  });

  it("finds a top away from 0 where the likelihood first falls", () => {
    const slope = (variance: number) => (variance - 0.2) * (3 - variance);
    expectRelative(likeliestVariance(fits(slope), -1), 3, 1e-7);
  });

  it("is 0 where the likelihood falls from there, or rises too shortly to be told from 0", () => {
    expect(
      likeliestVariance(
        fits(() => -1),
        -1,
      ),
    ).toBe(0);
    expect(
      likeliestVariance(
        fits(() => -1),
        1e-9,
      ),
    ).toBe(0);
  });

  it("has no answer where the likelihood never ends rising", () => {
    expect(
      likeliestVariance(
        fits(() => 1),
        1,
      ),
    ).toBeUndefined();
  });
});

describe("varianceLimits()", () => {
  // Twice the likelihood falls by the square of the log variance: limits of exp(±√fall).
  const parabola = fits(
    () => 0,
    (variance) => -(Math.log(variance) ** 2) / 2,
  );

  it("finds both limits of a parabola on the log scale (closed form)", () => {
    const { lower, upper } = varianceLimits(parabola, 1, { top: 0, atZero: -50, fall: 4 });
    expectRelative(lower, Math.exp(-2), 1e-6);
    expectRelative(upper, Math.exp(2), 1e-6);
  });

  it("ends below at 0 where no variance is not unlikely enough, and above nowhere where nothing falls", () => {
    expect(varianceLimits(parabola, 1, { top: 0, atZero: -1.9, fall: 4 }).lower).toBe(0);
    const flat = fits(() => 0);
    expect(varianceLimits(flat, 1, { top: 0, atZero: -9, fall: 4 })).toEqual({ lower: 0, upper: undefined });
    expect(varianceLimits(flat, 0, { top: 0, atZero: 0, fall: 4 }).upper).toBeUndefined();
  });
});
