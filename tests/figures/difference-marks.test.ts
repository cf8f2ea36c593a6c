import { describe, expect, it } from "vitest";
import type { ClearedTable } from "../../src/disclosure/cleared.ts";
import { differenceMarks } from "../../src/figures/difference-marks.ts";
import { svgDocument } from "../../src/figures/svg-document.ts";

const cell = (...values: number[]) => ({ text: values.join(), values, hidden: false });

function table(pairs: number, differences: readonly (number | undefined)[]): ClearedTable {
  const apart = Array.from({ length: pairs }, (_, at) => ({
    id: `apart-0-${at + 1}`,
    label: "Difference",
    align: "end" as const,
  }));
  return {
    kind: "table",
    id: "covariates",
    title: "Covariates",
    columns: [
      { id: "what", label: "What", align: "start" },
      { id: "group-0", label: "with", align: "end" },
      ...apart,
    ],
    rows: differences.map((value, at) => ({
      label: `row ${at}`,
      heading: false,
      indent: 0,
      cells: [cell(70), ...apart.map(() => (value === undefined ? cell() : cell(value)))],
    })),
    notes: [],
    settings: {},
  };
}

const centreOf = (svg = "") => Number(/<circle[^>]*cx="([\d.]+)"/.exec(svg)?.[1]);

describe("differenceMarks()", () => {
  it("marks each difference on its side of the middle, as far out as it is large, and no other row", () => {
    const marks = differenceMarks(svgDocument(), table(1, [-0.4, undefined, 0, 0.2]), 0.2);
    expect(marks?.column).toBe(2);
    expect(marks?.rows[1]).toBeUndefined();
    const [left, , middle, right] = (marks?.rows ?? []).map(centreOf);
    expect(middle).toBe(72);
    expect((middle ?? 0) - (left ?? 0)).toBeCloseTo(2 * ((right ?? 0) - (middle ?? 0)), 6);
    expect([...(marks?.scale ?? "").matchAll(/>([^<>]+)<\/text>/g)].map(([, words]) => words)).toEqual([
      "−0.4",
      "0",
      "0.4",
    ]);
  });

  it("keeps every mark inside its picture, and is silent to a screen reader, which has the number", () => {
    const marks = differenceMarks(svgDocument(), table(1, [3.2, -1.7, 0.001]), 0.2);
    for (const svg of marks?.rows ?? []) {
      expect(centreOf(svg)).toBeGreaterThan(4);
      expect(centreOf(svg)).toBeLessThan(140);
      expect(svg).toContain('aria-hidden="true"');
      expect(svg).not.toMatch(/\sid=|style=/);
    }
  });

  it("leaves several pairs of groups to a figure of their own", () => {
    expect(differenceMarks(svgDocument(), table(2, [0.1]), 0.2)).toBeUndefined();
    expect(differenceMarks(svgDocument(), table(0, [0.1]), 0.2)).toBeUndefined();
  });
});
