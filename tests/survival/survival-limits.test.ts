import { describe, expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { productLimit } from "../../src/survival/product-limit.ts";
import { riskSteps } from "../../src/survival/risk-steps.ts";
import { stepsAfter } from "../../src/survival/steps-after.ts";
import { survivalLimits } from "../../src/survival/survival-limits.ts";
import { curveOf } from "./curve-helpers.ts";

const quantile = 1.959963984540054;
const SETTINGS = { level: 0.95, scale: "log-minus-log", quantile } as const;

describe("survivalLimits()", () => {
  it("names where limits come from on every scale (closed form)", () => {
    const half = quantile * 0.1;
    expect(survivalLimits(0.8, 0.1, 20, { ...SETTINGS, scale: "linear" })).toEqual({
      lower: 0.8 - half,
      upper: 0.8 + half,
      limits: "variance",
    });
    const onLog = survivalLimits(0.8, 0.1, 20, { ...SETTINGS, scale: "log" });
    expect(onLog.limits).toBe("variance");
    expect(onLog.lower).toBeCloseTo(0.8 * Math.exp(-half / 0.8), 14);
    // 0.8 × 1.28 would lie above 1.
    expect(onLog.upper).toBe(1);
    expect(survivalLimits(0.8, 0.1, 20, SETTINGS).limits).toBe("variance");
  });

  it("gives reasons instead of limits, the missing people before the missing clusters", () => {
    const nothing = { lower: null, upper: null };
    const oneCluster = { ...SETTINGS, quantile: undefined };
    expect(survivalLimits(0, 0, 5, oneCluster)).toEqual({ ...nothing, limits: "nobody left" });
    expect(survivalLimits(1, 0, 0, oneCluster)).toEqual({ ...nothing, limits: "nobody left" });
    expect(survivalLimits(0.5, 0.1, 5, oneCluster)).toEqual({ ...nothing, limits: "one cluster" });
    expect(survivalLimits(0.5, 0, 5, SETTINGS)).toEqual({ ...nothing, limits: "no spread" });
  });

  it("takes the level for the exact limit as well (closed form)", () => {
    for (const level of [0.9, 0.99]) {
      const { lower } = survivalLimits(1, 0, 12, { ...SETTINGS, level });
      expect(lower).toBeCloseTo(Math.exp(Math.log((1 - level) / 2) / 12), 12);
    }
  });
});

describe("productLimit()", () => {
  it("stays at 0 with a standard error of 0 once everybody has had the event", () => {
    const path = productLimit([4, 2, 3], [2, 2, 1]);
    expect([...path.survival]).toEqual([0.5, 0, 0]);
    expect([...path.standardError]).toEqual([0.25, 0, 0]);
  });
});

describe("stepsAfter()", () => {
  const columns = { exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0] };
  const steps = riskSteps(countsByTime(columns), 0);

  it("keeps all steps from before the first, and none from the last on", () => {
    expect(stepsAfter(steps, 0)).toEqual(steps);
    for (const from of [5, 6]) {
      expect(stepsAfter(steps, from)).toMatchObject({ cases: 0, time: new Int32Array(0) });
    }
  });

  it("counts only who leaves later, and leaves every row of its columns in step", () => {
    const later = stepsAfter(steps, 2);
    expect([later.cases, [...later.time], [...later.atRisk], [...later.censored]]).toEqual([
      2,
      [3, 5],
      [2, 1],
      [0, 1],
    ]);
    expect(later.events.map((column) => [...column])).toEqual([[1, 0]]);
  });

  it("gives the whole curve from tick 0 where nothing happens on it (identity)", () => {
    expect(curveOf(columns, { from: 0 })).toEqual(curveOf(columns));
    expect(curveOf(columns, { from: 5 })).toMatchObject({ cases: 0, time: [], followedTo: 0 });
  });
});
