import { describe, expect, it } from "vitest";
import { LINE_STYLES, lineStyle } from "../../src/figures/line-style.ts";
import { placeLabels } from "../../src/figures/place-labels.ts";
import { textWidth, wrapText } from "../../src/figures/text-width.ts";
import { valueAxis } from "../../src/figures/value-axis.ts";

describe("valueAxis()", () => {
  it("ends at a round number that holds the largest value", () => {
    expect(valueAxis(50.8, 10, 1000)).toEqual({ limit: 60, ticks: [0, 10, 20, 30, 40, 50, 60] });
    expect(valueAxis(4.3, 1, 100).limit).toBe(5);
    expect(valueAxis(0.3, 0.1, 1)).toEqual({ limit: 0.3, ticks: [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3] });
  });

  it("is no shorter than asked for, so that noise near zero does not fill the frame", () => {
    expect(valueAxis(0, 1, 100).limit).toBe(1);
    expect(valueAxis(0.002, 1, 100).limit).toBe(1);
  });

  it("never runs past everybody", () => {
    expect(valueAxis(1000, 10, 1000).limit).toBe(1000);
    expect(valueAxis(100, 1, 100).limit).toBe(100);
  });

  it("has evenly spaced ticks from 0 to its limit, few enough to read", () => {
    for (let largest = 0.1; largest < 1000; largest *= 1.37) {
      const { limit, ticks } = valueAxis(largest, 0.1, 1000);
      expect(limit).toBeGreaterThanOrEqual(largest);
      expect(limit).toBeLessThanOrEqual(2 * largest + 1);
      expect(ticks[0]).toBe(0);
      expect(ticks.at(-1)).toBe(limit);
      expect(ticks.length).toBeGreaterThan(2);
      expect(ticks.length).toBeLessThanOrEqual(7);
    }
  });
});

describe("placeLabels()", () => {
  const wish = (y: number, x = 100) => ({ x, y, width: 80, height: 16, obstacles: [] });

  it("leaves a label alone that is in nobody's way", () => {
    expect(placeLabels([wish(50), wish(150)], 0, 300)).toEqual([50, 150]);
  });

  it("moves labels apart that would cover each other", () => {
    const centres = placeLabels([wish(100), wish(100), wish(101)], 0, 300).sort((a, b) => a - b);
    expect((centres[1] ?? 0) - (centres[0] ?? 0)).toBeGreaterThanOrEqual(16);
    expect((centres[2] ?? 0) - (centres[1] ?? 0)).toBeGreaterThanOrEqual(16);
  });

  it("keeps the order of the curves' ends where labels have to move, so that no leaders cross", () => {
    const wished = [150, 146, 152, 148, 151];
    const centres = placeLabels(
      wished.map((y) => wish(y)),
      0,
      300,
    );
    const byWish = [...wished.keys()].sort((a, b) => (wished[a] ?? 0) - (wished[b] ?? 0));
    const sorted = byWish.map((at) => centres[at] ?? 0);
    expect(sorted).toEqual([...sorted].sort((a, b) => a - b));
    // A pile stands around the mean of its wishes: 149.4.
    expect((Math.min(...centres) + Math.max(...centres)) / 2).toBeCloseTo(149.4, 6);
  });

  it("keeps a pile inside the picture", () => {
    const centres = placeLabels([wish(295), wish(296), wish(297)], 0, 300);
    expect(Math.max(...centres)).toBe(292);
    expect(Math.min(...placeLabels([wish(1), wish(2)], 0, 300))).toBe(8);
  });

  it("keeps labels off the lines of other groups and inside the picture", () => {
    const line = { left: 0, right: 400, top: 95, bottom: 105 };
    const [centre = 0] = placeLabels([{ ...wish(100), obstacles: [line] }], 0, 300);
    expect(centre + 8 <= 95 || centre - 8 >= 105).toBe(true);
    expect(placeLabels([wish(-40)], 0, 300)).toEqual([8]);
    // Shading is kept clear of too, but only while a line leaves room.
    const shading = [{ left: 0, right: 500, top: 60, bottom: 160 }];
    const [clear = 0] = placeLabels([{ ...wish(100), obstacles: [line], shading }], 0, 300);
    expect(clear < 60 - 8 || clear > 160 + 8).toBe(true);
    const all = [{ left: 0, right: 500, top: 0, bottom: 300 }];
    expect(placeLabels([{ ...wish(100), obstacles: [line], shading: all }], 0, 300)).toEqual([centre]);
  });

  it("does not depend on the order in which groups come", () => {
    const [a, b] = placeLabels([wish(100), wish(108)], 0, 300);
    const [c, d] = placeLabels([wish(108), wish(100)], 0, 300);
    expect([a, b]).toEqual([d, c]);
  });

  it("still keeps labels apart where lines leave no room", () => {
    const everywhere = { left: 0, right: 400, top: 0, bottom: 300 };
    const [a = 0, b = 0] = placeLabels(
      [100, 100].map((y) => ({ ...wish(y), obstacles: [everywhere] })),
      0,
      300,
    );
    expect(Math.abs(a - b)).toBeGreaterThanOrEqual(16);
  });
});

describe("wrapText()", () => {
  it("breaks between words and keeps every word", () => {
    const lines = wrapText("tourniquet released before the cement had set", 12, 130, 9);
    expect(lines.length).toBeGreaterThan(1);
    expect(lines.join(" ")).toBe("tourniquet released before the cement had set");
    for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(130);
  });

  it("shortens what does not fit, and shows that it did", () => {
    const [line = ""] = wrapText("W".repeat(100), 12, 100);
    expect(textWidth(line, 12)).toBeLessThanOrEqual(100);
    expect(line.endsWith("…")).toBe(true);
    const lines = wrapText("one two three four five six seven", 12, 40, 2);
    expect(lines).toHaveLength(2);
    expect(lines[1]?.endsWith("…")).toBe(true);
  });

  it("gives no line for no text", () => {
    expect(wrapText("  ", 12, 100)).toEqual([]);
  });

  it("counts a joined emoji and a combining mark as what is seen", () => {
    expect(textWidth("e\u0301", 10)).toBe(textWidth("e", 10));
    expect(textWidth("\u200d", 10)).toBe(0);
  });
});

describe("lineStyle()", () => {
  it("has a contrast of at least 3 to 1 on white in every colour", () => {
    for (const { colour } of LINE_STYLES) expect(1.05 / (luminance(colour) + 0.05)).toBeGreaterThanOrEqual(3);
  });

  it("tells every pair of groups apart without colour: by dash, or by a clear step of grey and width", () => {
    const seen = new Set(LINE_STYLES.map(({ dashes }) => dashes ?? "solid"));
    expect(seen.size).toBe(LINE_STYLES.length);
  });

  it("gives the same style to the same place, and a broader line after the sixth", () => {
    expect(lineStyle(2)).toEqual(lineStyle(2));
    expect(lineStyle(6).width).toBeGreaterThan(lineStyle(0).width);
    expect(lineStyle(6).colour).toBe(lineStyle(0).colour);
  });
});

/** Relative luminance as WCAG 2.2 defines it. */
function luminance(colour: string): number {
  const channels = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  const [red = 0, green = 0, blue = 0] = channels.map((value) =>
    value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4,
  );
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
