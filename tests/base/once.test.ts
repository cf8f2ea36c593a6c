import { describe, expect, it } from "vitest";
import { once } from "../../src/base/once.ts";

describe("once()", () => {
  it("computes when first asked and never again, a value of nothing included", () => {
    let computed = 0;
    const ask = once(() => {
      computed += 1;
      return undefined;
    });
    expect(computed).toBe(0);
    expect([ask(), ask()]).toEqual([undefined, undefined]);
    expect(computed).toBe(1);
  });
});
