import { describe, expect, it } from "vitest";
import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, TableExhibit } from "../../src/disclosure/exhibit.ts";
import { ratioFigure } from "../../src/figures/index.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";

const ratio = (...values: [number, number, number]): Cell => ({
  kind: "numbers",
  form: "{0} ({1} to {2})",
  values,
  decimals: 2,
  restsOn: [],
});
const refused: Cell = { kind: "none", because: "too few events" };

function table(cells: Cell[][], label = "with over without"): Cleared<ClearedTable> {
  const exhibit: TableExhibit = {
    kind: "table",
    id: "ratios",
    title: "Ratios",
    picture: "ratios",
    columns: [
      { id: "years", label: "Years" },
      { id: "alone", label: "Alone" },
      { id: "adjusted", label: "Adjusted" },
    ],
    rows: [
      { label, heading: true, cells: [] },
      ...cells.map((own, at) => ({ label: `period ${at + 1}`, cells: own })),
    ],
  };
  const [one] = disclose([exhibit], "analyst").exhibits;
  if (one?.kind !== "table") throw new Error("a table was expected");
  return one as Cleared<ClearedTable>;
}

const svgOf = (cells: Cell[][], label?: string) => ratioFigure(table(cells, label))?.svg ?? "";

describe("ratioFigure()", () => {
  it("draws a mark for every estimate: circles in the first column, squares in the second", () => {
    const svg = svgOf([
      [ratio(1.5, 1, 2), ratio(1.2, 0.8, 1.9)],
      [ratio(0.7, 0.5, 1), refused],
    ]);
    // One of each more in the legend.
    expect(svg.match(/<circle/g)).toHaveLength(3);
    expect(svg.match(/<rect[^>]*fill="#1c2428"/g)).toHaveLength(2);
  });

  it("puts a half and a double as far from the line at 1", () => {
    const svg = svgOf([
      [ratio(0.5, 0.4, 0.6), refused],
      [ratio(2, 1.8, 2.4), refused],
    ]);
    const marks = [...svg.matchAll(/<circle[^>]*cx="([\d.]+)"/g)].map((match) => Number(match[1])).slice(1);
    const one = Number(
      /<line[^>]*stroke-width="1\.4"[^>]*x1="([\d.]+)"/.exec(svg)?.[1] ??
        /x1="([\d.]+)"[^>]*stroke-width="1\.4"/.exec(svg)?.[1],
    );
    expect(one).toBeGreaterThan(0);
    expect(one - (marks[0] ?? 0)).toBeCloseTo((marks[1] ?? 0) - one, 1);
  });

  it("ends what runs beyond the axis in an arrow and says so", () => {
    const svg = svgOf([[ratio(3, 0.001, 900), refused]]);
    expect(svg).toContain("An arrow: the limit lies beyond the axis");
    expect(svgOf([[ratio(3, 1, 9), refused]])).not.toContain("An arrow");
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("draws nothing where no cell holds an estimate", () => {
    expect(ratioFigure(table([[refused, refused]]))).toBeUndefined();
  });

  it("tells every number in its text alternative", () => {
    const text = /<desc[^>]*>([^<]*)</.exec(svgOf([[ratio(1.5, 1, 2), refused]]))?.[1];
    expect(text).toContain("with over without, period 1, Alone: 1.50 (1.00 to 2.00).");
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    expect(faultsOf(svgOf([[ratio(1.5, 1, 2), refused]], words))).toEqual([]);
  });
});
