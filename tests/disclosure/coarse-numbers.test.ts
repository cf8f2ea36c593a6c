import { describe, expect, it } from "vitest";
import { coarseNumbers } from "../../src/disclosure/coarse-numbers.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, Exhibit } from "../../src/disclosure/exhibit.ts";

type Numbers = Extract<Cell, { kind: "numbers" }>;

const risk = (key: string, units: number, value: number): Numbers => ({
  kind: "numbers",
  form: "{0} ({1} to {2})",
  values: [value, value - 3.3, value + 5.6],
  decimals: 1,
  restsOn: [{ key, units }],
  oneEventChanges: 1.3,
});

const table = (cells: readonly Cell[]): Exhibit => ({
  kind: "table",
  id: "risks",
  title: "Risks",
  columns: [{ id: "row", label: "Row" }, ...cells.map((_cell, at) => ({ id: `c${at}`, label: `c${at}` }))],
  rows: [{ label: "risk", cells }],
});

const cleared = (cells: readonly Cell[], audience: "committee" | "analyst") => {
  const [exhibit] = disclose([table(cells)], audience).exhibits;
  return exhibit?.kind === "table" ? exhibit.rows[0]?.cells : undefined;
};

describe("coarseNumbers()", () => {
  it("takes the smallest of 1, 2, 5, 10, … that is at least what one event changes", () => {
    const cell = risk("a", 20, 9.3);
    const printed = (oneEventChanges: number) => coarseNumbers(cell, oneEventChanges).values;
    // closed form: 9.3, 6.0 and 14.9 to the nearest step
    expect(printed(0.4)).toEqual([9, 6, 15]);
    expect(printed(1)).toEqual([9, 6, 15]);
    expect(printed(1.3)).toEqual([10, 6, 14]);
    expect(printed(2.1)).toEqual([10, 5, 15]);
    expect(printed(7)).toEqual([10, 10, 10]);
    expect(coarseNumbers(cell, 1.3).text).toBe("about 10 (6 to 14)");
  });

  it("leaves several numbers of events possible between two years", () => {
    // 16 events by year 5, 6.4 per 1,000; then one event changes from 0.56 to 1.32 per 1,000
    const [later = 0] = coarseNumbers(risk("a", 20, 9.3), 1.32).values;
    const fits = [1, 2, 3, 4, 5, 6, 7, 8, 9].filter((events) => {
      const [least, most] = [6.4 + 0.56 * events, 6.4 + 1.32 * events];
      return most >= later - 1 && least < later + 1;
    });
    expect(fits.length).toBeGreaterThan(4);
    expect(Math.max(...fits)).toBeGreaterThanOrEqual(5);
  });
});

describe("disclose()", () => {
  const near = [risk("events/loosening/a/to:5", 16, 6.4), risk("events/loosening/a/to:10", 20, 9.3)];

  it("prints whole steps where two large counts differ by a small one", () => {
    const [first, second] = cleared(near, "committee") ?? [];
    expect(first).toMatchObject({ text: "6.4 (3.1 to 12.0)", hidden: false });
    expect(second).toEqual({ text: "about 10 (6 to 14)", values: [10, 6, 14], hidden: false, coarse: true });
  });

  it("still hides an estimate whose own count is small", () => {
    const [only] = cleared([risk("events/loosening/a/to:5", 4, 1.6)], "committee") ?? [];
    expect(only).toMatchObject({ text: "hidden", hidden: true, values: [] });
  });

  it("hides as before where nothing says what one event changes", () => {
    const { oneEventChanges: _left, ...rest } = near[1] as Numbers;
    expect(cleared([near[0] as Cell, rest], "committee")?.[1]).toMatchObject({ hidden: true });
  });

  it("gives analysts the number itself", () => {
    expect(cleared(near, "analyst")?.[1]?.values[0]).toBe(9.3);
  });
});
