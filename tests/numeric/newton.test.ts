import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { type LikelihoodPoint, newtonMaximum } from "../../src/numeric/newton.ts";

/** Log-likelihood of `events` in `trials` by the log odds; the highest point is log(events / (trials − events)). */
function binomial(trials: number, events: number) {
  return ([odds = 0]: Float64Array): LikelihoodPoint => {
    const p = 1 / (1 + Math.exp(-odds));
    return {
      logLikelihood: events * odds - trials * Math.log1p(Math.exp(odds)),
      score: [events - trials * p],
      information: [[trials * p * (1 - p)]],
    };
  };
}

describe("newtonMaximum()", () => {
  it("finds the log odds of 3 in 10 (closed form)", () => {
    const { at, report } = newtonMaximum(binomial(10, 3), [0]);
    expect(at[0]).toBeCloseTo(Math.log(3 / 7), 14);
    expect(report).toMatchObject({ converged: true, reason: "converged" });
    expect(report.iterations).toBeLessThan(8);
  });

  it("halves a step that overshoots: −log cosh from 2 (closed form: 0)", () => {
    const { at, report } = newtonMaximum(
      ([x = 0]) => ({
        logLikelihood: -Math.log(Math.cosh(x)),
        score: [-Math.tanh(x)],
        information: [[1 / (Math.cosh(x) * Math.cosh(x))]],
      }),
      [2],
    );
    expect(Math.abs(at[0] ?? 1)).toBeLessThan(1e-9);
    expect(report.converged).toBe(true);
    expect(report.halvings).toBeGreaterThan(0);
  });

  it("says that a likelihood without a highest point levels off, and in which direction", () => {
    const { report, lastStep } = newtonMaximum(binomial(10, 10), [0]);
    expect(report).toMatchObject({ converged: false, reason: "levelling-off" });
    expect(lastStep[0]).toBeCloseTo(1, 3);
  });

  it("says that curvature is missing, that no step rises, and that the steps ran out", () => {
    const flat = { logLikelihood: 0, score: [1], information: [[0]] };
    expect(newtonMaximum(() => flat, [0]).report.reason).toBe("singular");
    const falling = (x: Float64Array) => ({ logLikelihood: -(x[0] ?? 0), score: [1], information: [[1]] });
    expect(newtonMaximum(falling, [0]).report.reason).toBe("no-ascent");
    expect(newtonMaximum(binomial(10, 3), [0], { mostSteps: 1 }).report.reason).toBe("step-limit");
  });

  it("has nothing to do without parameters", () => {
    const nothing = { logLikelihood: -2, score: [], information: [] };
    expect(newtonMaximum(() => nothing, []).report).toMatchObject({ converged: true, iterations: 0 });
  });

  it("refuses a start where the likelihood is not finite", () => {
    const nowhere = { logLikelihood: Number.NaN, score: [0], information: [[1]] };
    expect(() => newtonMaximum(() => nowhere, [0])).toThrow(ArgumentError);
  });
});
