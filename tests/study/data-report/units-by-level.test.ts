import { describe, expect, it } from "vitest";
import { rowsByLevel, unitsByKind } from "../../../src/study/data-report/units-by-level.ts";

describe("unitsByKind()", () => {
  const rows = rowsByLevel(
    { labels: ["a", "b"], codes: Int32Array.of(0, 0, 1, 1) },
    { codes: Int32Array.of(0, 0, 0, 1), count: 2 },
  );

  it("counts the units and the persons of up to four kinds at each level", () => {
    expect(unitsByKind(rows, { marks: Uint8Array.of(3, 3, 0, 3), kinds: 4 })).toEqual([
      [0, 0, 0, 2].map((units) => ({ units, persons: Math.min(1, units) })),
      [1, 0, 0, 1].map((units) => ({ units, persons: units })),
    ]);
  });

  it("refuses a fifth kind, whose mark would run into that of the level", () => {
    expect(() => unitsByKind(rows, { marks: Uint8Array.of(4, 0, 0, 4), kinds: 5 })).toThrow(
      /takes up to 4 kinds/,
    );
  });
});
