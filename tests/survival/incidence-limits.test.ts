import { describe, expect, it } from "vitest";
import { incidenceLimits } from "../../src/survival/incidence-limits.ts";
import { leftOver } from "../../src/survival/incidence-path.ts";
import { survivalLimits } from "../../src/survival/survival-limits.ts";

const quantile = 1.959963984540054;
const SETTINGS = { level: 0.95, scale: "log-minus-log", quantile } as const;
const NOTHING = { lower: null, upper: null };

describe("incidenceLimits()", () => {
  it("gives reasons instead of limits, the missing people before the missing clusters", () => {
    const oneCluster = { ...SETTINGS, quantile: undefined };
    expect(incidenceLimits(0, 0, 0, oneCluster)).toEqual({ ...NOTHING, limits: "nobody left" });
    expect(incidenceLimits(1, 0, 5, oneCluster)).toEqual({ ...NOTHING, limits: "nobody left" });
    expect(incidenceLimits(0.5, 0.1, 5, oneCluster)).toEqual({ ...NOTHING, limits: "one cluster" });
    expect(incidenceLimits(0.5, 0, 5, SETTINGS)).toEqual({ ...NOTHING, limits: "no spread" });
  });

  it("takes sums of weights that reach 1 but for their last digits for 1", () => {
    expect(incidenceLimits(1 - 1e-13, 1e-9, 5, SETTINGS).limits).toBe("nobody left");
    expect(incidenceLimits(1 - 1e-9, 1e-10, 5, SETTINGS).limits).toBe("variance");
  });

  it("takes the level for the exact limit as well (closed form)", () => {
    for (const level of [0.9, 0.99]) {
      const { lower, upper, limits } = incidenceLimits(0, 0, 12, { ...SETTINGS, level });
      expect([lower, limits]).toEqual([0, "none seen"]);
      expect(upper).toBeCloseTo(1 - Math.exp(Math.log((1 - level) / 2) / 12), 12);
    }
  });

  it("is one minus the survival interval on the log-minus-log and the linear scale (identity)", () => {
    for (const scale of ["log-minus-log", "linear"] as const) {
      const ours = incidenceLimits(0.3, 0.2, 9, { ...SETTINGS, scale });
      const theirs = survivalLimits(0.7, 0.2, 9, { ...SETTINGS, scale });
      expect(ours.limits).toBe("variance");
      expect(ours.lower).toBeCloseTo(1 - (theirs.upper ?? 0), 13);
      expect(ours.upper).toBeCloseTo(1 - (theirs.lower ?? 0), 13);
    }
  });

  it("stays between 0 and 1 on every scale", () => {
    expect(incidenceLimits(0.1, 0.2, 9, { ...SETTINGS, scale: "linear" }).lower).toBe(0);
    expect(incidenceLimits(0.9, 0.2, 9, { ...SETTINGS, scale: "linear" }).upper).toBe(1);
    const onLog = incidenceLimits(0.9, 0.2, 9, { ...SETTINGS, scale: "log" });
    expect(onLog.upper).toBe(1);
    expect(onLog.lower).toBeCloseTo(0.9 * Math.exp((-quantile * 0.2) / 0.9), 13);
  });
});

describe("leftOver()", () => {
  it("is nobody where sums of weights should meet and miss by their last digits", () => {
    expect(leftOver(5, 3)).toBe(2);
    expect(leftOver(0.1 + 0.2, 0.3)).toBe(0);
    expect(leftOver(0.3, 0.1 + 0.2)).toBe(0);
  });
});
