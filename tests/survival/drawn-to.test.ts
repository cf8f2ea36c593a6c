import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { drawnTo } from "../../src/survival/drawn-to.ts";
import { yearRefusal } from "../../src/survival/year-refusal.ts";

describe("drawnTo()", () => {
  it("stops on the last tick with 40 at risk in a small group (closed form)", () => {
    expect(drawnTo([10, 20, 30, 40], [60, 41, 40, 39])).toEqual({
      computed: true,
      tick: 30,
      atRiskFloor: 40,
    });
  });

  it("stops at a tenth of the largest number at risk in a large group (closed form)", () => {
    expect(drawnTo([10, 20, 30], [5000, 500, 499])).toEqual({ computed: true, tick: 20, atRiskFloor: 500 });
  });

  it("takes exactly 40 at risk as enough, on the first tick as on the last", () => {
    expect(drawnTo([10], [40])).toMatchObject({ tick: 10 });
    expect(drawnTo([10, 20], [40, 39])).toMatchObject({ tick: 10 });
  });

  it("draws to the end where enough are at risk to the end", () => {
    expect(drawnTo([10, 20], [80, 80])).toMatchObject({ tick: 20 });
  });

  it("starts late with delayed entry and stops for good at the first dip", () => {
    expect(drawnTo([0, 10, 20, 30, 40], [5, 30, 60, 39, 70])).toMatchObject({ tick: 20 });
  });

  it("draws nothing of a group that never has 40 at risk, and nothing of nobody", () => {
    expect(drawnTo([10, 20], [39, 20])).toMatchObject({ computed: false, code: "group-too-small-to-draw" });
    expect(drawnTo([], [])).toMatchObject({ computed: false, code: "group-too-small-to-draw" });
  });
});

describe("yearRefusal()", () => {
  const curve = {
    followedTo: 800,
    drawnTo: drawnTo([365, 500, 800], [60, 50, 10]),
    timeUnit: TIME_UNITS.day,
  };

  it("lets a year stand up to the tick on which the curve stops, and not after", () => {
    expect(yearRefusal(1, curve)).toBeUndefined();
    expect(yearRefusal(500 / 365.25, curve)).toBeUndefined();
    expect(yearRefusal(2, curve)).toMatchObject({ code: "too-few-at-risk" });
    expect(yearRefusal(3, curve)).toMatchObject({ code: "beyond-follow-up" });
  });

  it("says the same however large the group was", () => {
    const largest = [60, 640, 6400].map((atRisk) => {
      const stop = drawnTo([365, 500, 800], [atRisk, 50, 10]);
      return yearRefusal(2, { ...curve, drawnTo: stop })?.because;
    });
    expect(new Set(largest)).toEqual(new Set(["too few were still at risk at 2 years"]));
  });
});
