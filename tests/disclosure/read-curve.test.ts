import { describe, expect, it } from "vitest";
import { readCurve, readCurveAtYear, readingText, shareScale } from "../../src/disclosure/read-curve.ts";
import { cleared, sampleCurves } from "../report/sample-curves.ts";

/** Steps at days 120, 450 and 777. Values: one minus 1, 0.8, 0.5333333, 0 (R 4.2.2, survival 3.5.3). */
const curve = {
  label: "all knees",
  style: 0,
  time: [0, 120, 450, 777],
  value: [0, 0.2, 0.4666667, 1],
  low: [null, 0.1, 0.2, null],
  high: [null, 0.5, 0.8, null],
  drawnTo: 800,
};

describe("readCurve()", () => {
  it.each([
    [119, 0],
    [120, 0.2],
    [121, 0.2],
    [449, 0.2],
    [450, 0.4666667],
    [776, 0.4666667],
    [777, 1],
    [800, 1],
  ])("takes the step at or before day %i, never the next: %d", (day, value) => {
    expect(readCurve(curve, day)?.value).toBe(value);
  });

  it("has no value beyond the last tick drawn, before 0, or on an empty curve", () => {
    expect(readCurve(curve, 801)).toBeUndefined();
    expect(readCurve(curve, -1)).toBeUndefined();
    expect(readCurve({ ...curve, time: [], value: [] }, 5)).toBeUndefined();
  });

  it("counts a year as its last whole tick", () => {
    // Year 1 is day 365, year 2 day 730.
    expect(readCurveAtYear(curve, 1, sampleCurves)?.value).toBe(0.2);
    expect(readCurveAtYear(curve, 2, sampleCurves)?.value).toBe(0.4666667);
    expect(readCurveAtYear(curve, 3, sampleCurves)).toBeUndefined();
  });
});

describe("readingText()", () => {
  it("says per 1,000 for crude risk and per cent for net risk, because net risk is not a number of people", () => {
    const reading = { value: 0.0231, low: 0.0115, high: 0.0401 };
    expect(shareScale(sampleCurves).word).toBe("per 1,000");
    expect(readingText(reading, shareScale(sampleCurves))).toBe("23.1 (11.5 to 40.1)");
    const net = shareScale(cleared({ ...sampleCurves, risk: "net" }));
    expect(net.word).toBe("%");
    expect(readingText(reading, net)).toBe("2.31 (1.15 to 4.01)");
  });

  it("says that there is no interval where a limit is undefined", () => {
    expect(readingText({ value: 0.02, low: null, high: 0.4 }, shareScale(sampleCurves))).toBe(
      "20.0 (no interval)",
    );
  });
});
