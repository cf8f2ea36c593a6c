import { describe, expect, it } from "vitest";
import type { Cleared, ClearedCurves } from "../../src/disclosure/cleared.ts";
import { readCurve, shareScale, yearCell } from "../../src/disclosure/read-curve.ts";
import { cleared, countCell, hiddenCell, sampleCurves } from "../report/sample-curves.ts";

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
});

describe("yearCell()", () => {
  const exhibit = cleared({ ...sampleCurves, years: [0, 1, 2, 3], curves: [curve], landmarks: [] });
  const texts = (of: Cleared<ClearedCurves>) => of.years.map((_, at) => yearCell(of, "all knees", at).text);

  it("counts a year as its last whole tick, and says so where the line has ended", () => {
    // Year 1 is day 365, year 2 day 730, year 3 day 1095.
    expect(texts(exhibit)).toEqual(["0", "200.0 (100.0 to 500.0)", "466.7 (200.0 to 800.0)", "not drawn"]);
    expect(yearCell(exhibit, "all knees", 2).values).toEqual([466.6667, 200, 800]);
  });

  it("says per 1000 for crude risk and per cent for net risk, because net risk is not a number of people", () => {
    const net = cleared({ ...exhibit, risk: "net" });
    expect(shareScale(exhibit).word).toBe("per 1000");
    expect(shareScale(net).word).toBe("%");
    expect(texts(net)[1]).toBe("20.00 (10.00 to 50.00)");
  });

  it("is hidden where the events so far are hidden: the merged line lies below the estimate there", () => {
    const counts = [countCell(0), countCell(8), hiddenCell, hiddenCell];
    const row = { label: "all knees", style: 0, atRisk: counts, events: counts, censored: counts };
    const merged = cleared({ ...exhibit, landmarks: [row] });
    expect(texts(merged)).toEqual(["0", "200.0 (100.0 to 500.0)", hiddenCell.text, hiddenCell.text]);
    expect(yearCell(merged, "all knees", 2)).toMatchObject({ hidden: true, values: [] });
  });

  it("says that there is no interval where a limit is undefined", () => {
    const open = cleared({ ...exhibit, curves: [{ ...curve, low: [null, null, null, null] }] });
    expect(texts(open)[1]).toBe("200.0 (no interval)");
  });

  it("has nothing for a group without a curve", () => {
    expect(yearCell(exhibit, "another group", 1).text).toBe("not drawn");
  });
});
