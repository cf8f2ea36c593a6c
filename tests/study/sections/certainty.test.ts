import { describe, expect, it } from "vitest";
import { certainty } from "../../../src/study/sections/certainty.ts";

describe("certainty()", () => {
  it("tells the four cases apart, on both sides of zero", () => {
    const cases = [
      { low: -8, high: 2, says: /cannot tell/ },
      { low: -2, high: 8, says: /cannot tell/ },
      { low: -2, high: 3, says: /agree with no difference, and not with/ },
      { low: 1, high: 9, says: /may be too small/ },
      { low: -9, high: -1, says: /may be too small/ },
      { low: 6, high: 9, says: /only with a difference that matters/ },
      { low: -9, high: -6, says: /only with a difference that matters/ },
    ];
    for (const { low, high, says } of cases) expect(certainty(low, high, 5)).toMatch(says);
  });

  it("counts a limit at zero as holding zero, and a limit at the margin as holding a difference that matters", () => {
    expect(certainty(0, 3, 5)).toMatch(/agree with no difference/);
    expect(certainty(0, 5, 5)).toMatch(/cannot tell/);
    expect(certainty(5, 9, 5)).toMatch(/only with a difference that matters/);
  });

  it("cannot tell without an interval", () => {
    expect(certainty(undefined, undefined, 5)).toMatch(/cannot tell/);
  });
});
