import { describe, expect, it } from "vitest";
import { notComputed } from "../../../src/base/answer.ts";
import type { Cell, TableExhibit } from "../../../src/disclosure/exhibit.ts";
import { firstOver } from "../../../src/study/estimates/first-over.ts";
import { defineStudy } from "../../../src/study/plan/define-study.ts";
import { runStudy } from "../../../src/study/run.ts";
import { comparisonsExhibit } from "../../../src/study/sections/comparisons.ts";
import { PLAN, smallStudy } from "../small-export.ts";

const counted = async (...args: Parameters<typeof smallStudy>) => {
  const { study, source } = smallStudy(...args);
  const { estimates, facts } = await runStudy(study, source);
  return { estimates, facts, table: comparisonsExhibit(estimates, facts) };
};

const ps = (cells: readonly Cell[]) => cells.map((cell) => (cell.kind === "pValue" ? cell.p : undefined));

/** Rows beneath the heading at a place. */
function family({ rows }: TableExhibit, at: number) {
  const starts = rows.flatMap(({ heading }, row) => (heading ? [row] : []));
  return rows.slice((starts[at] ?? 0) + 1, starts[at + 1]);
}

describe("comparisonsExhibit()", () => {
  it("counts those that the plan has elsewhere as if they had shown nothing", async () => {
    const { estimates, facts, table } = await counted({ plannedComparisons: 3 }, { knees: 3000 });
    expect(facts.comparisons).toBe(3);
    const { adjusted, alone, groupTerm } = estimates.adjusted;
    const model = adjusted.computed ? adjusted : alone;
    if (!model.computed) throw new Error("a model was expected");
    const ratio = firstOver(model.fit.columns, groupTerm, facts.groups, 1);
    if (!ratio.computed) throw new Error("a ratio was expected");
    // closed form: the smallest of three p under Holm and under Benjamini and Hochberg is three times itself
    const worth = Math.min(1, 3 * ratio.p);
    expect(ps(family(table, 0)[0]?.cells ?? [])).toEqual([ratio.p, worth, worth]);
    expect(table.notes?.join(" ")).toContain("The plan counts 2 more in other reports");
  });

  it("adjusts the declared periods among themselves", async () => {
    const { table } = await counted({}, { knees: 6000 });
    const found = family(table, 1).map(({ cells }) => ps(cells));
    const own = found.flatMap(([p]) => (p === undefined ? [] : [p])).sort((a, b) => a - b);
    expect(own.length).toBeGreaterThan(1);
    const smallest = found.find(([p]) => p === own[0]);
    // closed form: Holm gives the smallest of k its k-fold
    expect(smallest?.[1]).toBe(Math.min(1, own.length * (own[0] ?? 0)));
    for (const [p = 0, holm = 0, discovery = 0] of found) {
      expect(holm).toBeGreaterThanOrEqual(discovery);
      expect(discovery).toBeGreaterThanOrEqual(p);
    }
  });

  it("counts one that could not be computed as if it had shown nothing", async () => {
    const { estimates, facts } = await counted(
      { exposure: { field: "centre", groups: ["C1", "C2", "C3"] }, periods: [] },
      { knees: 2000, centres: 3 },
    );
    const without = notComputed("no-events", "no event in one of the groups");
    const [first, second] = estimates.rateRatios;
    if (!first?.comparison.computed || second === undefined) throw new Error("two ratios were expected");
    const table = comparisonsExhibit(
      {
        ...estimates,
        adjusted: { ...estimates.adjusted, adjusted: without, alone: without },
        rateRatios: [
          { ...first, comparison: { ...first.comparison, p: 0.03 } },
          { ...second, comparison: without },
        ],
      },
      facts,
    );
    // closed form: the smaller of two p under Holm and under Benjamini and Hochberg is twice itself
    expect(ps(family(table, 0)[0]?.cells ?? [])).toEqual([0.03, 0.06, 0.06]);
    expect(ps(family(table, 0)[1]?.cells ?? [])).toEqual([undefined, undefined, undefined]);
    expect(table.notes?.join(" ")).toContain("could not be computed counts in its family");
  });

  it("takes no plan that counts fewer comparisons than its own groups make", () => {
    const groups = ["C1", "C2", "C3"];
    const planned = (plannedComparisons: number) =>
      defineStudy({ ...PLAN, exposure: { field: "centre", groups }, plannedComparisons });
    expect(() => planned(1)).toThrow(/counts 1, but 3 groups make 2 here alone; write 2 or more/);
    expect(planned(2).plan.plannedComparisons).toBe(2);
  });

  it("asks one comparison for each group beside the first where the plan names no number", async () => {
    const { facts, table } = await counted(
      { exposure: { field: "centre", groups: ["C1", "C2", "C3"] } },
      { knees: 2000, centres: 3 },
    );
    expect(facts.comparisons).toBe(2);
    expect(family(table, 0)).toHaveLength(2);
    expect(table.rows[0]?.label).toBe("Planned over all years: 2, of which here: 2");
  });
});
