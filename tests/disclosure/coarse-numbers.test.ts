import fc from "fast-check";
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
  oneMoreChanges: [1.3],
});

const table = (cells: readonly Cell[]): Exhibit => ({
  kind: "table",
  id: "risks",
  title: "Risks",
  columns: [{ id: "row", label: "Row" }, ...cells.map((_cell, at) => ({ id: `c${at}`, label: `c${at}` }))],
  rows: [{ label: "risk", cells }],
});

const cleared = (cells: readonly Cell[], audience: "external" | "committee" | "analyst") => {
  const [exhibit] = disclose([table(cells)], audience).exhibits;
  return exhibit?.kind === "table" ? exhibit.rows[0]?.cells : undefined;
};

describe("coarseNumbers()", () => {
  it("takes the smallest of 1, 2, 5, 10, … that is at least what a threshold of events changes", () => {
    const cell = risk("a", 20, 9.3);
    const printed = (oneEventChanges: number, threshold: number) =>
      coarseNumbers(cell, oneEventChanges, threshold);
    // closed form: 9.3 to the nearest step; 3.3 down and 5.6 up, each with half a step more, in whole steps
    expect(printed(0.1, 5)).toEqual({ text: "between 5 and 16", values: [9, 5, 16], step: 1 });
    expect(printed(0.2, 5)?.step).toBe(1);
    expect(printed(0.4, 5)).toMatchObject({ values: [10, 4, 18], step: 2 });
    expect(printed(0.4, 10)).toMatchObject({ values: [10, 0, 20], step: 5 });
    expect(printed(1.3, 5)).toMatchObject({ text: "between 0 and 30", step: 10 });
  });

  it("prints an interval that holds the computed one, for every estimate printed alike", () => {
    // Eighths, which binary numbers hold exactly.
    const anything = fc.integer({ min: -640, max: 640 }).map((eighths) => eighths / 8);
    const width = fc.integer({ min: 0, max: 320 }).map((eighths) => eighths / 8);
    fc.assert(
      fc.property(anything, width, width, (estimate, below, above) => {
        const cell = { ...risk("a", 20, 0), values: [estimate, estimate - below, estimate + above] };
        const coarse = coarseNumbers(cell, 1.3, 5);
        if (coarse === undefined) return;
        const { values, step } = coarse;
        const [middle = 0, low = 0, high = 0] = values;
        expect(low).toBeLessThanOrEqual(estimate - below);
        expect(high).toBeGreaterThanOrEqual(estimate + above);
        expect(Math.abs(middle - estimate)).toBeLessThanOrEqual(step / 2);
        for (const value of values) expect(Object.is(value, -0)).toBe(false);
      }),
    );
  });

  it("leaves a limit on its own side of zero", () => {
    const printed = (values: readonly number[]) => coarseNumbers({ ...risk("a", 20, 0), values }, 0.4, 5);
    expect(printed([1.4, 0.1, 2.1])?.values).toEqual([2, 0, 4]);
    expect(printed([-1.4, -2.1, -0.1])?.values).toEqual([-2, -4, 0]);
    expect(printed([0.4, -0.1, 0.9])?.values).toEqual([0, -2, 2]);
  });

  it("never prints a risk as 0", () => {
    const cell = { ...risk("a", 22, 0), values: [9.3, 6, 14.9] };
    expect(coarseNumbers(cell, 1.3, 10)).toBeUndefined();
    expect(coarseNumbers(cell, 1.3, 5)?.values[0]).toBe(10);
  });

  it("prints 18 to 22 events of 500 alike", () => {
    // closed form: per 1000 with limits of the share plus and minus 1.96 standard errors
    const printed = [18, 19, 20, 21, 22].map((events) => {
      const share = events / 500;
      const half = 1.96 * Math.sqrt((share * (1 - share)) / 500);
      const values = [share, share - half, share + half].map((limit) => 1000 * limit);
      return coarseNumbers({ ...risk("a", events, 0), values }, 2, 5)?.text;
    });
    expect(new Set(printed)).toEqual(new Set(["between 10 and 70"]));
  });

  it("leaves several numbers of events possible between two years", () => {
    // 16 events by year 5, 6.4 per 1000; then one event changes from 0.56 to 1.32 per 1000
    const [later = 0] = coarseNumbers(risk("a", 20, 9.3), 1.32, 5)?.values ?? [];
    const fits = [1, 2, 3, 4, 5, 6, 7, 8, 9].filter((events) => {
      const [least, most] = [6.4 + 0.56 * events, 6.4 + 1.32 * events];
      return most >= later - 5 && least < later + 5;
    });
    expect(fits.length).toBeGreaterThan(4);
    expect(Math.max(...fits)).toBeGreaterThanOrEqual(5);
  });
});

describe("disclose()", () => {
  const near = [risk("events/loosening/a/to:5", 16, 6.4), risk("events/loosening/a/to:10", 20, 9.3)];

  it("widens to all numbers that the later count may be, where two large counts differ by a small one", () => {
    const [first, second] = cleared(near, "committee") ?? [];
    expect(first).toMatchObject({ text: "6.4 (3.1 to 12.0)", hidden: false });
    // closed form: 17 to 20 events; 9.3 − 3 × 1.3 to 9.3, in the middle 7.35; limits 3.9 − 3.3 lower and 5.6 higher
    expect(second).toEqual({ text: "between 2 and 16", values: [8, 2, 16], hidden: false, coarse: 2 });
  });

  it("prints the same whichever of these numbers it is, in both copies", () => {
    for (const audience of ["committee", "external"] as const) {
      const most = audience === "committee" ? 4 : 9;
      const texts = Array.from({ length: most }, (_, more) => {
        const events = 41 + more;
        const [value, root] = [20 + 0.5 * more, Math.sqrt(events / 40)];
        const later = { ...risk("events/x/a/to:10", events, value), oneMoreChanges: [0.5] };
        const limits = [value, value - 6 * root, value + 7 * root];
        return cleared([risk("events/x/a/to:5", 40, 18), { ...later, values: limits }], audience)?.[1]?.text;
      });
      expect(new Set(texts).size, texts.join("; ")).toBe(1);
      expect(texts[0]).toMatch(/^between/);
    }
  });

  it("widens a difference for a count of either group, across zero where need be", () => {
    const apart: Cell = {
      ...risk("events/x/a/to:10", 40, 0),
      values: [1, 0.5, 8],
      restsOn: [
        { key: "events/x/a/to:10", units: 40 },
        { key: "events/x/b/to:10", units: 20 },
      ],
      oneMoreChanges: [0.5, -1.3],
    };
    const cells = [risk("events/x/b/to:5", 16, 6.4), apart];
    // closed form: 17 to 20 events of the second group: 1 to 1 + 3.9, in the middle 2.95; limits 0.5 and 11.9
    expect(cleared(cells, "committee")?.[1]?.values).toEqual([2, 0, 12]);
  });

  it("still hides an estimate whose own count is small", () => {
    const [only] = cleared([risk("events/loosening/a/to:5", 4, 1.6)], "committee") ?? [];
    expect(only).toMatchObject({ text: "hidden", hidden: true, values: [] });
  });

  it("hides as before where nothing says what one event changes", () => {
    const { oneMoreChanges: _left, ...rest } = near[1] as Numbers;
    expect(cleared([near[0] as Cell, rest], "committee")?.[1]).toMatchObject({ hidden: true });
  });

  it("gives analysts the number itself", () => {
    expect(cleared(near, "analyst")?.[1]?.values[0]).toBe(9.3);
  });
});
