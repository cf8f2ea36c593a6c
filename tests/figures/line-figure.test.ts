import { describe, expect, it } from "vitest";
import type { Cleared, ClearedLines } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Exhibit, LineExhibit } from "../../src/disclosure/exhibit.ts";
import { lineFigure } from "../../src/figures/index.ts";
import { lineTable } from "../../src/report/index.ts";
import { lineTwin } from "../../src/report/line-table.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";

const RATIO: LineExhibit = {
  kind: "lines",
  id: "ratio-over-time",
  title: "Ratio over the years",
  question: "Does the ratio change?",
  across: "Years of follow-up",
  up: "Hazard ratio",
  scale: "ratio",
  drawing: "joined points",
  lines: [
    {
      label: "with over without",
      style: 0,
      x: [0, 2, 4, 6],
      y: [0.5, 1, 2, 3],
      low: [0.001, 0.5, 1, null],
      high: [4, 2, 4, null],
    },
  ],
};

const AMOUNT: LineExhibit = {
  ...RATIO,
  id: "amount",
  scale: "amount",
  drawing: "steps",
  up: "Events per 100 years",
  lines: [
    { label: "with", style: 0, x: [0, 1, 3], y: [0, 2, 2], low: [0, 1, 1], high: [0, 90, 90] },
    { label: "with, worst case", style: 0, thin: true, x: [0, 3], y: [0, 3] },
    { label: "nobody", style: 1, x: [], y: [] },
  ],
};

const kept = (exhibit: LineExhibit): Exhibit => ({
  kind: "for analysts",
  id: "rest",
  title: "All the rest",
  exhibits: () => [exhibit],
});

function clearedLines(exhibit: LineExhibit): Cleared<ClearedLines> {
  const [one] = disclose([kept(exhibit)], "analyst").exhibits;
  if (one?.kind !== "lines") throw new Error("lines were expected");
  return one as Cleared<ClearedLines>;
}

const svgOf = (exhibit: LineExhibit) => lineFigure(clearedLines(exhibit)).svg;

/** Heights of the first wide path: the line itself. */
function lineHeights(svg: string): number[] {
  const path = /<g[^>]*stroke-width="2\.2"[^>]*><path d="([^"]*)"/.exec(svg)?.[1] ?? "";
  return [...path.matchAll(/[ML][\d.]+,([\d.]+)/g)].map((match) => Number(match[1]));
}

describe("lineFigure()", () => {
  it("stands ratios on a logarithmic axis: half and twice lie as far from 1", () => {
    const [half = 0, one = 0, twice = 0] = lineHeights(svgOf(RATIO));
    expect(half - one).toBeCloseTo(one - twice, 1);
    expect(half).toBeGreaterThan(one);
  });

  it("cuts limits at the end of the axis and says so, in both scales", () => {
    for (const exhibit of [RATIO, AMOUNT]) {
      expect(svgOf(exhibit)).toContain("Limits run beyond the axis");
      expect(svgOf(exhibit)).not.toMatch(/NaN|undefined|Infinity|null/);
    }
    const [line] = AMOUNT.lines;
    if (line === undefined) throw new Error("a line was expected");
    const narrow = { ...AMOUNT, lines: [{ ...line, high: [0, 3, 3] }] };
    expect(svgOf(narrow)).not.toContain("Limits run beyond the axis");
  });

  it("draws nothing where every line ends at 0", () => {
    const one = { label: "with", style: 0, x: [0], y: [0.2], low: [null], high: [null] };
    const svg = svgOf({ ...AMOUNT, lines: [one, { ...one, label: "without", style: 1 }] });
    expect(svg).toContain("Nothing to draw");
    expect(svg).not.toMatch(/NaN|Infinity/);
    // A line at 0 beside a longer one is drawn.
    const longer = {
      ...one,
      label: "without",
      style: 1,
      x: [0, 2],
      y: [0, 1],
      low: [null, null],
      high: [null, null],
    };
    expect(svgOf({ ...AMOUNT, lines: [one, longer] })).not.toMatch(/NaN|Infinity|Nothing to draw/);
  });

  it("names a line without points instead of drawing it, and draws a companion thin", () => {
    const svg = svgOf(AMOUNT);
    expect(svg).toContain("Not drawn: nobody.");
    expect(svg).toMatch(/<g[^>]*stroke-width="1\.1"[^>]*><path/);
    expect(svgOf({ ...AMOUNT, lines: AMOUNT.lines.slice(2) })).toContain("Nothing to draw");
  });

  it("says in its text alternative where each line begins, ends and is largest", () => {
    const text = /<desc[^>]*>([^<]*)</.exec(svgOf(RATIO))?.[1];
    expect(text).toContain("Does the ratio change?");
    expect(text).toContain("from 0.5 (0.001 to 4) at 0 to 3 at 6, largest 3 at 6");
  });

  it("draws the same bytes twice, whatever was drawn between", () => {
    const first = svgOf(RATIO);
    svgOf(AMOUNT);
    expect(svgOf(RATIO)).toBe(first);
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    const hostile = {
      ...RATIO,
      title: words,
      up: words,
      lines: RATIO.lines.map((line) => ({ ...line, label: words })),
    };
    expect(faultsOf(svgOf(hostile))).toEqual([]);
  });
});

describe("lines as a table", () => {
  it("hold every point in the file, and some with the last one on the page", () => {
    const x = Array.from({ length: 100 }, (_, at) => at);
    const long = clearedLines({ ...AMOUNT, lines: [{ label: "long", style: 0, x, y: x }] });
    expect(lineTable(long).rows).toHaveLength(100);
    const twin = lineTwin(long).rows;
    expect(twin.length).toBeLessThanOrEqual(13);
    expect(twin.at(-1)?.cells[0]?.values).toEqual([99]);
    expect(
      lineTable(clearedLines(RATIO))
        .rows.at(-1)
        ?.cells.map(({ text }) => text),
    ).toEqual(["6", "3", "none", "none"]);
  });
});

describe("disclose() and lines", () => {
  it("leaves them out for all but analysts, and refuses columns of different lengths", () => {
    expect(disclose([kept(RATIO)], "committee").exhibits).toEqual([]);
    expect(disclose([kept(RATIO)], "external").log).toEqual([
      { exhibit: "rest", title: "All the rest", act: "in the analysts' copy alone", cells: 1 },
    ]);
    const uneven = { ...RATIO, lines: [{ label: "uneven", style: 0, x: [0, 1], y: [1] }] };
    expect(() => disclose([kept(uneven)], "analyst")).toThrow("columns of different lengths");
  });
});
