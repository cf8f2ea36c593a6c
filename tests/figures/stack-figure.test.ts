import { describe, expect, it } from "vitest";
import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, TableRow } from "../../src/disclosure/exhibit.ts";
import { stackFigure } from "../../src/figures/index.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";

const amount = (value: number, units = 40): Cell => ({
  kind: "number",
  value,
  decimals: 1,
  restsOn: [{ key: `events/${value}`, units }],
});

function table(rows: readonly TableRow[], labels = ["Loosening", "Death"]): Cleared<ClearedTable> {
  const columns = [
    { id: "group", label: "Group" },
    ...labels.map((label, at) => ({ id: `part-${at}`, label })),
    { id: "none", label: "None" },
  ];
  const [one] = disclose(
    [{ kind: "table", id: "outcomes", title: "Outcomes", columns, rows }],
    "committee",
  ).exhibits;
  if (one?.kind !== "table") throw new Error("a table was expected");
  return one as Cleared<ClearedTable>;
}

const row = (label: string, style: number, ...cells: Cell[]): TableRow => ({ label, style, cells });
const heading: TableRow = { label: "By 5 years", heading: true, cells: [] };

/** Boxes of the bars, from left to right within each. */
const boxes = (svg: string) =>
  [...svg.matchAll(/<rect[^>]*>/g)].flatMap(([tag]) =>
    tag.includes(' height="14"')
      ? [{ x: Number(/ x="([\d.]+)"/.exec(tag)?.[1]), width: Number(/ width="([\d.]+)"/.exec(tag)?.[1]) }]
      : [],
  );

describe("stackFigure()", () => {
  const svg =
    stackFigure(
      table([
        heading,
        row("with", 0, amount(10), amount(30), amount(960)),
        row("without", 1, amount(20, 3), amount(31), amount(949)),
      ]),
    )?.svg ?? "";

  it("sets each part at the end of the one before, in proportion, and leaves the rest out", () => {
    const [first, second, ...more] = boxes(svg);
    if (first === undefined || second === undefined) throw new Error("two boxes were expected");
    expect(second.x).toBeCloseTo(first.x + first.width, 1);
    expect(second.width / first.width).toBeCloseTo(3, 1);
    expect(more).toEqual([]);
  });

  it("draws no bar where a part is hidden: its length would tell it", () => {
    expect(svg).toContain(">hidden + 31.0<");
    expect(svg).toContain("By 5 years, without: Loosening hidden, Death 31.0.");
  });

  it("draws nothing where no row has all its parts", () => {
    expect(stackFigure(table([row("with", 0, amount(10, 2), amount(30), amount(960))]))).toBeUndefined();
  });

  it.each(HOSTILE)("sets %s as text", (_name, words) => {
    const hostile = table(
      [{ ...heading, label: words }, row(words, 0, amount(10), amount(30), amount(960))],
      [words, `${words}2`],
    );
    expect(faultsOf(stackFigure(hostile, { stamp: words })?.svg ?? "")).toEqual([]);
  });
});
