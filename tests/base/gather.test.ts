import { describe, expect, it } from "vitest";
import { gather } from "../../src/base/gather.ts";

describe("gather()", () => {
  it("takes values at places, with repeats and in their order, and stays of its kind", () => {
    expect(gather(Float64Array.of(0.5, 1.5, 2.5), Int32Array.of(2, 0, 2))).toEqual(
      Float64Array.of(2.5, 0.5, 2.5),
    );
    expect(gather(Uint8Array.of(7, 9), [1])).toEqual(Uint8Array.of(9));
    expect(gather(Int32Array.of(7, -9), [])).toEqual(new Int32Array(0));
  });
});
