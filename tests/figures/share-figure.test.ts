import { describe, expect, it } from "vitest";
import type { Audience } from "../../src/disclosure/audience.ts";
import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell } from "../../src/disclosure/exhibit.ts";
import { shareFigure } from "../../src/figures/index.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";

const share = (value: number, units = 100): Cell => ({
  kind: "number",
  value,
  decimals: 0,
  suffix: " %",
  restsOn: [{ key: `filled/${value}/${units}`, units }],
});
const blank: Cell = { kind: "text", text: "no rows" };

function table(
  rows: readonly (readonly [string, ...Cell[]])[],
  columns: readonly string[] = ["2014", "2015"],
  audience: Audience = "committee",
): Cleared<ClearedTable> {
  const [one] = disclose(
    [
      {
        kind: "table",
        id: "completeness",
        title: "How completely",
        picture: "shares",
        columns: [
          { id: "field", label: "Field" },
          ...columns.map((label, at) => ({ id: `level-${at}`, label })),
        ],
        rows: rows.map(([label, ...cells]) => ({ label, cells, heading: cells.length === 0 })),
      },
    ],
    audience,
  ).exhibits;
  if (one?.kind !== "table") throw new Error("a table was expected");
  return one as Cleared<ClearedTable>;
}

const svgOf = (...args: Parameters<typeof table>) => shareFigure(table(...args))?.svg ?? "";
const boxes = (svg: string, fill: string) => svg.split(`<rect fill="${fill}"`).length - 1;

describe("shareFigure()", () => {
  it("fills a box darker the less is there, and writes the percentage into it", () => {
    const svg = svgOf([
      ["age", share(99), share(94)],
      ["bmi", share(60), share(12)],
    ]);
    // One more of each shade stands in the legend.
    for (const fill of ["#eef3f6", "#bcd0dc", "#7ea3b8", "#123f5e"]) expect(boxes(svg, fill), fill).toBe(2);
    for (const words of [">99<", ">94<", ">60<", ">12<"]) expect(svg).toContain(words);
  });

  it("draws a hidden cell as an empty box with a line across and no number, and nothing for no answer", () => {
    const svg = svgOf([["age", share(97, 3), share(96)]]);
    expect(svg).not.toContain(">97<");
    const analyst = svgOf([["age", share(97, 3), share(96)]], undefined, "analyst");
    expect(analyst).toContain(">97<");
    // Beside the sample of the legend.
    expect(svg.split("<line").length - analyst.split("<line").length).toBe(1);
    expect(svgOf([["age", blank, share(96)]]).split("<rect").length).toBe(
      svgOf([["age", share(95), share(96)]]).split("<rect").length - 1,
    );
  });

  it("draws nothing where no percentage is shown, and tells every cell in its text alternative", () => {
    expect(shareFigure(table([["age", blank, blank]]))).toBeUndefined();
    expect(shareFigure(table([]))).toBeUndefined();
    expect(svgOf([["age", share(97, 3), share(96)]])).toContain("age: 2014 hidden, 2015 96 %.");
  });

  it("leaves the numbers out where boxes are too narrow, and slants long names", () => {
    const columns = Array.from({ length: 60 }, (_, at) => `centre ${at}`);
    const svg = svgOf([["age", ...columns.map((_, at) => share(30 + at))]], columns);
    expect(svg).not.toContain(">45<");
    expect(svg.split("rotate(").length - 1).toBe(60);
    expect(svgOf([["age", share(96), share(97)]])).not.toContain("rotate(");
  });

  it("keeps headings without boxes", () => {
    const svg = svgOf([["By centre"], ["C1", share(99), share(98)]]);
    expect(svg).toMatch(/<text[^>]*font-weight="600"[^>]*>By centre</);
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    expect(faultsOf(svgOf([[words, share(96), share(97)]], [words, "2015"]))).toEqual([]);
  });
});
