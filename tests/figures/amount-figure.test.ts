import { describe, expect, it } from "vitest";
import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, TableRow } from "../../src/disclosure/exhibit.ts";
import { amountFigure } from "../../src/figures/index.ts";
import { lineStyle } from "../../src/figures/line-style.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";

const rate = (values: readonly [number, number, number], units = 40): Cell => ({
  kind: "numbers",
  form: "{0} ({1} to {2})",
  values,
  decimals: 2,
  restsOn: [{ key: `events/${values.join("/")}`, units }],
});

function table(rows: readonly TableRow[], title = "Rates"): Cleared<ClearedTable> {
  const columns = [
    { id: "group", label: "Period and group" },
    { id: "rate", label: "Rate per 100" },
  ];
  const [one] = disclose([{ kind: "table", id: "rates", title, columns, rows }], "committee").exhibits;
  if (one?.kind !== "table") throw new Error("a table was expected");
  return one as Cleared<ClearedTable>;
}

const row = (label: string, style: number, cell: Cell): TableRow => ({ label, style, cells: [cell] });
const heading: TableRow = { label: "0–3 years", heading: true, cells: [] };

describe("amountFigure()", () => {
  const svg =
    amountFigure(
      table([
        heading,
        row("with", 0, rate([0.2, 0.1, 0.3])),
        row("without", 1, rate([0.1, 0.05, 0.2])),
        { label: "ratio", cells: [rate([2, 1, 3])] },
        row("few", 2, rate([0.9, 0.2, 2], 3)),
      ]),
    )?.svg ?? "";

  it("draws each group in its own style, and leaves rows of no group out", () => {
    for (const style of [0, 1]) expect(svg).toContain(lineStyle(style).colour);
    expect(svg).not.toContain(">ratio<");
    expect(svg).toMatch(/stroke-dasharray="8 4"/);
  });

  it("has the word of a hidden number and no mark, nor its place in the text alternative", () => {
    expect(svg).toContain(">hidden<");
    // One in front of its name, none on the axis.
    expect(svg.match(new RegExp(`stroke="${lineStyle(2).colour}"`, "g"))).toHaveLength(1);
    expect(svg).toContain("0–3 years, few: hidden.");
    expect(svg).not.toContain("0.9");
  });

  it("names every number in its text alternative", () => {
    expect(svg).toContain("0–3 years, with: 0.20 (0.10 to 0.30). 0–3 years, without: 0.10 (0.05 to 0.20).");
  });

  it("ends a limit far beyond the rest in an arrow, and says so", () => {
    const far =
      amountFigure(table([row("a", 0, rate([1, 0.5, 90])), row("b", 1, rate([1, 0.5, 2]))]))?.svg ?? "";
    expect(far).toContain("An arrow: the limit lies beyond the axis");
  });

  it("draws nothing where every number is hidden", () => {
    expect(amountFigure(table([row("a", 0, rate([1, 0.5, 2], 2))]))).toBeUndefined();
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    const hostile = table([{ ...heading, label: words }, row(words, 0, rate([1, 0.5, 2]))], words);
    expect(faultsOf(amountFigure(hostile, { stamp: words })?.svg ?? "")).toEqual([]);
  });
});
