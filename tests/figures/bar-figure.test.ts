import { describe, expect, it } from "vitest";
import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, TableExhibit } from "../../src/disclosure/exhibit.ts";
import { barFigure } from "../../src/figures/index.ts";
import { lineStyle } from "../../src/figures/line-style.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";

const percent = (value: number, units = 90): Cell => ({
  kind: "number",
  value,
  decimals: 1,
  suffix: " %",
  restsOn: [{ key: `present/${value}/${units}`, units }],
});

function table(rows: TableExhibit["rows"], labels = ["with", "without"]): Cleared<ClearedTable> {
  const columns = [
    { id: "what", label: "Per cent" },
    ...labels.map((label, at) => ({ id: `group-${at}`, label })),
  ];
  const [one] = disclose(
    [{ kind: "table", id: "shares", title: "Shares", columns, rows }],
    "committee",
  ).exhibits;
  if (one?.kind !== "table") throw new Error("a table was expected");
  return one as Cleared<ClearedTable>;
}

/** Widths of the bars, which are all of one height. */
const widths = (svg: string) =>
  [...svg.matchAll(/<rect[^>]*>/g)].flatMap(([tag]) =>
    tag.includes(' height="12"') ? [Number(/ width="([\d.]+)"/.exec(tag)?.[1])] : [],
  );

describe("barFigure()", () => {
  const svg =
    barFigure(
      table([
        { label: "age", cells: [percent(100), percent(50)] },
        { label: "weight", cells: [percent(25), percent(3, 3)] },
      ]),
    )?.svg ?? "";

  it("draws lengths in proportion, in the colours of the groups, filled and hollow", () => {
    const [whole = 0, half = 0, quarter = 0] = widths(svg);
    expect(half / whole).toBeCloseTo(0.5, 2);
    expect(quarter / whole).toBeCloseTo(0.25, 2);
    expect(svg).toContain(`fill="${lineStyle(0).colour}"`);
    expect(svg).toContain(`stroke="${lineStyle(1).colour}"`);
  });

  it("has the word of a hidden number and no bar", () => {
    expect(widths(svg)).toHaveLength(3);
    expect(svg).toContain(">hidden<");
    expect(svg).toContain("weight: with 25.0 %, without hidden.");
  });

  it("draws nothing where nothing is shown", () => {
    expect(barFigure(table([{ label: "age", cells: [percent(1, 1), percent(2, 2)] }]))).toBeUndefined();
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    const hostile = table([{ label: words, cells: [percent(10), percent(20)] }], [words, `${words}2`]);
    expect(faultsOf(barFigure(hostile, { stamp: words })?.svg ?? "")).toEqual([]);
  });
});
