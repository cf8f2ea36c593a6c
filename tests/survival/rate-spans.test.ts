import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { isInSpan, rateSpans, ticksInSpan } from "../../src/survival/rate-spans.ts";

const year = TIME_UNITS.year;
const [early, middle, late] = rateSpans("periods", [3, 5], year);
const [none, all] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];

describe("rateSpans()", () => {
  it("cuts follow-up at the last tick within each year, the last period open", () => {
    expect([early, middle, late]).toEqual([
      { fromYear: 0, toYear: 3, from: none, to: 3 },
      { fromYear: 3, toYear: 5, from: 3, to: 5 },
      { fromYear: 5, toYear: null, from: 5, to: all },
    ]);
    expect(rateSpans("periods", [], year)).toEqual([{ fromYear: 0, toYear: null, from: none, to: all }]);
    expect(rateSpans("periods", [0.99], TIME_UNITS.month)[0]).toMatchObject({ toYear: 0.99, to: 11 });
  });

  it("refuses ends that are no years, out of order, or within one tick of each other", () => {
    for (const periods of [[0], [-1], [0.5], [3, 3], [5, 3], [3, 3.9], [Number.NaN], [2, all]]) {
      expect(() => rateSpans("periods", periods, year)).toThrow("periods must be finite years");
    }
  });
});

describe("ticksInSpan()", () => {
  it("counts the part of a stay that falls into a period (closed form)", () => {
    const parts = (entry: number, exit: number) =>
      [early, middle, late].map((span) => span && ticksInSpan(entry, exit, span));
    expect(parts(0, 7)).toEqual([3, 2, 2]);
    expect(parts(-1, 7)).toEqual([3, 2, 2]);
    expect(parts(4, 6)).toEqual([0, 1, 1]);
    expect(parts(1, 2)).toEqual([1, 0, 0]);
    expect(parts(6, 9)).toEqual([0, 0, 3]);
  });
});

describe("isInSpan()", () => {
  it("puts the last tick of a period into it, and tick 0 into the first", () => {
    const periods = [0, 3, 4, 5, 6].map((tick) =>
      [early, middle, late].findIndex((span) => span && isInSpan(tick, span)),
    );
    expect(periods).toEqual([0, 0, 1, 1, 2]);
  });
});
