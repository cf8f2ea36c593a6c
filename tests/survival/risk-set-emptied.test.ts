import { describe, expect, it } from "vitest";
import { emptiedAt, riskSetEmptied, stopUnlessEmptied } from "../../src/survival/risk-set-emptied.ts";

describe("emptiedAt()", () => {
  it("is the tick that left nobody at risk although others were at risk later", () => {
    expect(emptiedAt([2, 4, 9], [3, 0, 5], [0.9, 0.9, 0.8])).toBe(2);
    expect(emptiedAt([2, 4, 9], [3, 2, 5], [0.9, 0.9, 0.8])).toBeNull();
  });

  it("is the tick on which all then at risk had the event, entries later or not", () => {
    expect(emptiedAt([2, 4, 9], [3, 2, 5], [0.9, 0, 0])).toBe(4);
    // Nobody came later: the curve simply ends at 0.
    expect(emptiedAt([2, 4], [3, 2], [0.9, 0])).toBeNull();
    expect(emptiedAt([2, 4, 9], [3, 2, 0], [0.9, 0, 0])).toBeNull();
  });

  it("does not count the ticks before the first entry, nor nobody at all", () => {
    expect(emptiedAt([0, 4, 9], [0, 2, 1], [1, 0.5, 0.5])).toBeNull();
    expect(emptiedAt([0, 1, 4], [0, 0, 2], [1, 1, 0.5])).toBeNull();
    expect(emptiedAt([], [], [])).toBeNull();
    expect(emptiedAt([5], [0], [1])).toBeNull();
  });
});

describe("riskSetEmptied()", () => {
  it("refuses from the tick on which it emptied, not before", () => {
    const refusal = (tick: number) => riskSetEmptied([2, 4, 9], [3, 0, 5], [0.9, 0.9, 0.8], tick);
    expect(refusal(1)).toBeUndefined();
    expect(refusal(2)).toMatchObject({ computed: false, code: "risk-set-emptied" });
    expect(refusal(9)).toMatchObject({ computed: false, code: "risk-set-emptied" });
    expect(riskSetEmptied([2, 4], [3, 2], [0.9, 0.5], 4)).toBeUndefined();
  });
});

describe("stopUnlessEmptied()", () => {
  it("keeps a stop up to the tick on which the risk set emptied", () => {
    const stop = { computed: true, tick: 50, atRiskFloor: 40 } as const;
    expect(stopUnlessEmptied(stop, null)).toBe(stop);
    expect(stopUnlessEmptied(stop, 50)).toBe(stop);
    expect(stopUnlessEmptied(stop, 51)).toBe(stop);
    expect(stopUnlessEmptied(stop, 49)).toMatchObject({ code: "risk-set-emptied" });
    const tooSmall = { computed: false, code: "group-too-small-to-draw", because: "few" } as const;
    expect(stopUnlessEmptied(tooSmall, 3)).toBe(tooSmall);
  });
});
