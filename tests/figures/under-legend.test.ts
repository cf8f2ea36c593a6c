import { describe, expect, it } from "vitest";
import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { FIGURE_WIDTH, FONT_SIZE } from "../../src/figures/curve-layout.ts";
import {
  barFigure,
  differenceFigure,
  pairFigure,
  ratioFigure,
  stackFigure,
} from "../../src/figures/index.ts";
import { svgDocument, svgElement } from "../../src/figures/svg-document.ts";
import { boldWidth } from "../../src/figures/text-width.ts";
import { type LegendEntry, underLegend } from "../../src/figures/under-legend.ts";
import { cleared, inventedCurve, numberCell, sampleCurves } from "../report/sample-curves.ts";

const LABELS = ["throughout", "for cementing only", "not at all", "released before the cement had set"].map(
  (words) => `tourniquet ${words}`,
);

/** Left end and baseline of every name, in the order of the legend. */
function places(svg: string): { x: number; y: number }[] {
  return LABELS.map((label) => {
    const tag = [...svg.matchAll(/<text ([^>]*)>([^<]*)<\/text>/g)].find(([, , words]) => words === label);
    const at = (name: string) => Number(new RegExp(`\\b${name}="([\\d.]+)"`).exec(tag?.[1] ?? "")?.[1]);
    return { x: at("x"), y: at("y") };
  });
}

const height = (svg: string) => Number(/ height="(\d+)"/.exec(svg)?.[1]);

function table(kind: string, labels = LABELS): Cleared<ClearedTable> {
  return cleared<ClearedTable>({
    kind: "table",
    id: "of-four",
    title: "Of four",
    columns: [
      { id: "what", label: "What", align: "start" },
      ...labels.map((label, at) => ({ id: `${kind}-${at}`, label, align: "end" as const })),
    ],
    rows: [
      {
        label: "row",
        heading: false,
        indent: 0,
        style: 0,
        cells: labels.map(() => numberCell("9", 0.9, 0.5, 1.5)),
      },
    ],
    notes: [],
    settings: {},
  });
}

const curves = (labels: readonly string[], risk: "crude" | "net") =>
  cleared({
    ...sampleCurves,
    risk,
    curves: labels.map((label, style) => inventedCurve(label, style, 0.04, 4018)),
  });
const pair = (labels = LABELS) =>
  pairFigure(curves(labels, "crude"), curves(labels, "net"), { id: "pair", title: "Pair" });

describe("underLegend()", () => {
  it.each([
    ["bars", (labels?: string[]) => barFigure(table("group", labels))],
    ["stacks", (labels?: string[]) => stackFigure(table("part", labels))],
    ["ratios", (labels?: string[]) => ratioFigure(table("pair", labels))],
    ["differences", (labels?: string[]) => differenceFigure(table("apart", labels))],
    ["curves beside each other", pair],
  ])("keeps the names of four groups inside the picture, above the drawing: %s", (_name, draw) => {
    const svg = draw()?.svg ?? "";
    const found = places(svg);
    found.forEach(({ x }, at) => {
      expect(x + boldWidth(LABELS[at] ?? "", FONT_SIZE)).toBeLessThanOrEqual(FIGURE_WIDTH);
    });
    const [first, last] = [found[0]?.y ?? 0, found.at(-1)?.y ?? 0];
    expect(last).toBeGreaterThan(first);
    expect(svg).toContain(`transform="translate(0,${last - first})"`);
    const short = draw(["a", "b", "c", "d"])?.svg ?? "";
    expect(height(svg) - height(short)).toBeCloseTo(last - first, 0);
  });

  it("stays on one line, and moves nothing, while there is room", () => {
    const document = svgDocument();
    const entry = (label: string): LegendEntry => ({
      label,
      sample: (x, y) => svgElement(document, "rect", { x, y }),
    });
    const line = svgElement(document, "line", {});
    const { nodes, extra } = underLegend(document, [entry("a"), entry("b")], { sampleWidth: 20 }, [line]);
    expect(extra).toBe(0);
    expect(nodes.map(({ outerHTML }) => outerHTML.slice(1, 5))).toEqual([
      ...["rect", "text", "rect", "text", "line"],
    ]);
    expect(underLegend(document, [], { sampleWidth: 20 }, [line])).toEqual({ nodes: [line], extra: 0 });
  });
});
