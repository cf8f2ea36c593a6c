import { describe, expect, it } from "vitest";
import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell } from "../../src/disclosure/exhibit.ts";
import { differenceFigure } from "../../src/figures/index.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";

const number = (value: number): Cell => ({ kind: "number", value, decimals: 2, restsOn: [] });
const blank: Cell = { kind: "text", text: "" };

function table(rows: readonly (readonly [string, ...Cell[]])[]): Cleared<ClearedTable> {
  const [one] = disclose(
    [
      {
        kind: "table",
        id: "covariates",
        title: "Covariates",
        picture: "differences",
        columns: [
          { id: "covariate", label: "At the start" },
          { id: "group-0", label: "with" },
          { id: "apart-0-1", label: "with and without" },
          { id: "apart-0-2", label: "with and partly" },
        ],
        rows: rows.map(([label, ...cells]) => ({ label, cells })),
      },
    ],
    "analyst",
  ).exhibits;
  if (one?.kind !== "table") throw new Error("a table was expected");
  return one as Cleared<ClearedTable>;
}

const svgOf = (rows: Parameters<typeof table>[0]) => differenceFigure(table(rows))?.svg ?? "";

describe("differenceFigure()", () => {
  it("marks each pair of groups on the side of its sign, and leaves rows without a difference out", () => {
    const svg = svgOf([
      ["age", blank, number(-0.3), number(0.3)],
      ["female", number(12), blank, blank],
    ]);
    const circles = [...svg.matchAll(/<circle[^>]*cx="([\d.]+)"/g)].map((match) => Number(match[1]));
    const middle = Number(/<line[^>]*stroke-width="1\.4"[^>]*x1="([\d.]+)"/.exec(svg)?.[1]);
    // The first circle is that of the legend.
    expect(circles[1]).toBeLessThan(middle);
    const square = Number(/<rect[^>]*fill="#1c2428"[^>]*x="([\d.]+)"[^>]*\/><\/svg>/.exec(svg)?.[1]);
    expect(square).toBeGreaterThan(middle);
    expect(svg).not.toContain(">female<");
  });

  it("never fills the frame with noise: the axis reaches to 0.2 at least", () => {
    expect(svgOf([["age", blank, number(0.001), blank]])).toMatch(/>0\.2</);
  });

  it("draws nothing where no difference is shown, and tells the numbers in its text alternative", () => {
    expect(differenceFigure(table([["age", number(70), blank, blank]]))).toBeUndefined();
    expect(svgOf([["age", blank, number(-0.25), blank]])).toContain("age, with and without: -0.25.");
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    expect(faultsOf(svgOf([[words, blank, number(0.1), blank]]))).toEqual([]);
  });
});
