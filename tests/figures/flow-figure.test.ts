import { describe, expect, it } from "vitest";
import { flowFigure } from "../../src/figures/index.ts";
import { idsOf, placedTexts, referencesOf } from "../report/figure-checks.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";
import { cleared, countCell, hiddenCell } from "../report/sample-curves.ts";
import { sampleFlow } from "../report/sample-flow.ts";

const svgOf = (exhibit = sampleFlow) => flowFigure(exhibit).svg;
const rectangles = (svg: string) =>
  [...svg.matchAll(/<rect([^>]*rx="2"[^>]*)\/>/g)].map(([, attributes = ""]) => {
    const read = (name: string) => Number(new RegExp(`\\s${name}="([\\d.]+)"`).exec(attributes)?.[1]);
    return {
      left: read("x"),
      top: read("y"),
      right: read("x") + read("width"),
      bottom: read("y") + read("height"),
    };
  });

describe("flowFigure()", () => {
  it("draws the same bytes twice", () => {
    expect(svgOf()).toBe(svgOf());
  });

  it("has a box for every step, every removal and every group, none over another and all inside the picture", () => {
    const boxes = rectangles(svgOf());
    const removed = sampleFlow.boxes.flatMap((box) => box.removed);
    expect(boxes).toHaveLength(sampleFlow.boxes.length + removed.length + sampleFlow.groups.length);
    const [, width = 0, height = 0] = /viewBox="0 0 (\d+) (\d+)"/.exec(svgOf())?.map(Number) ?? [];
    for (const [at, box] of boxes.entries()) {
      expect(box.left).toBeGreaterThan(0);
      expect(box.right).toBeLessThan(width);
      expect(box.bottom).toBeLessThan(height);
      for (const other of boxes.slice(at + 1)) {
        const apart =
          box.right <= other.left ||
          other.right <= box.left ||
          box.bottom <= other.top ||
          other.bottom <= box.top;
        expect(apart).toBe(true);
      }
    }
  });

  it("gives units and persons, and a hidden number as its words", () => {
    const texts = placedTexts(svgOf()).map(({ text }) => text);
    expect(texts).toContain("20\u202f114 knees in 17\u202f902 patients");
    expect(texts).toContain(`${hiddenCell.text} knees`);
  });

  it("tells the whole path in its description", () => {
    const svg = svgOf();
    const description = /<desc[^>]*>([^<]*)<\/desc>/.exec(svg)?.[1] ?? "";
    expect(description).toContain("Taken out: tourniquet: not recorded, 351 knees in 340 patients.");
    expect(description).toContain("no tourniquet, 4102 knees in 3720 patients");
    for (const reference of referencesOf(svg)) expect(idsOf(svg)).toContain(reference);
  });

  it("says a sentence where there is nothing to draw", () => {
    const svg = svgOf(cleared({ ...sampleFlow, boxes: [], groups: [] }));
    expect(svg).toContain("No knees came in");
    expect(svg).not.toContain("<path");
  });

  it.each([0, 1, 2, 4, 7])("finds room for %i groups", (number) => {
    const groups = Array.from({ length: number }, (_, at) => ({
      label: `group ${at}`,
      units: countCell(at),
    }));
    const svg = svgOf(cleared({ ...sampleFlow, groups }));
    for (const { label } of groups) expect(svg).toContain(`>${label}</text>`);
    expect(/NaN|undefined|Infinity/.exec(svg)?.[0]).toBeUndefined();
  });

  it.each(HOSTILE)("shows a label as text: %s", (_name, text) => {
    const part = { label: text, units: countCell(1), persons: countCell(1) };
    const exhibit = cleared({
      ...sampleFlow,
      id: text,
      title: text,
      unitWord: text,
      personWord: text,
      boxes: [{ ...part, removed: [part] }],
      groups: [part, part],
    });
    const { svg } = flowFigure(exhibit, { stamp: text });
    expect(faultsOf(svg)).toEqual([]);
    expect(/NaN|undefined|Infinity/.exec(svg)?.[0]).toBeUndefined();
  });
});
