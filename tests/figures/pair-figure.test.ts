import { describe, expect, it } from "vitest";
import { pairFigure } from "../../src/figures/index.ts";
import { lineStyle } from "../../src/figures/line-style.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";
import { cleared, sampleCurves } from "../report/sample-curves.ts";

const net = cleared({
  ...sampleCurves,
  id: "net",
  risk: sampleCurves.risk === "net" ? "crude" : "net",
  curves: sampleCurves.curves.map((curve) => ({ ...curve, value: curve.value.map((value) => value * 1.1) })),
});
const options = { id: "beside", title: "Beside each other" };

describe("pairFigure()", () => {
  const svg = pairFigure(sampleCurves, net, options)?.svg ?? "";

  it("draws both on the same axis, each group in its style in both", () => {
    for (const { style } of sampleCurves.curves) {
      const { colour, width } = lineStyle(style);
      const lines = [...svg.matchAll(/<g[^>]*>/g)].filter(
        ([tag]) => tag.includes(` stroke="${colour}"`) && tag.includes(` stroke-width="${width}"`),
      );
      expect(lines.length).toBeGreaterThanOrEqual(2);
    }
    expect(svg).toMatch(/both axes end at \d/);
    expect(svg).toContain("Crude risk, per 1000");
    expect(svg).toContain("Net risk, per 1000");
  });

  it("draws five groups of twenty years of daily points", () => {
    const time = Array.from({ length: 7305 }, (_, day) => day);
    const value = time.map((day) => day / 200_000);
    const daily = ["a", "b", "c", "d", "e"].map((label, style) => ({
      ...{ label, style, time, value, drawnTo: 7304 },
      ...{ low: value, high: value.map((share) => 1.2 * share) },
    }));
    const [one, two] = [cleared({ ...sampleCurves, curves: daily }), cleared({ ...net, curves: daily })];
    // The largest limit is 43.8 of 1000.
    expect(pairFigure(one, two, options)?.svg).toContain("both axes end at 50.");
  });

  it("is not drawn where one of the two has no curve", () => {
    expect(pairFigure(sampleCurves, cleared({ ...net, curves: [] }), options)).toBeUndefined();
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    const curves = sampleCurves.curves.map((curve) => ({ ...curve, label: words }));
    const first = cleared({ ...sampleCurves, curves, question: words });
    const svg = pairFigure(first, net, { ...options, title: words, stamp: words })?.svg ?? "";
    expect(faultsOf(svg)).toEqual([]);
  });
});
