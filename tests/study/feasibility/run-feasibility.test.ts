import { describe, expect, it } from "vitest";
import { ArgumentError, UsageError } from "../../../src/base/errors.ts";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { defineFeasibility } from "../../../src/study/feasibility/define-feasibility.ts";
import type { FeasibilityPlan } from "../../../src/study/feasibility/plan.ts";
import { feasibilityFiles } from "../../../src/study/feasibility/report.ts";
import { runFeasibility } from "../../../src/study/feasibility/run-feasibility.ts";
import { smallCells } from "../../disclosure/small-cells.ts";
import { PLAN, smallStudy } from "../small-export.ts";

const ASKED: FeasibilityPlan = {
  id: "asked",
  title: "What can be asked?",
  export: "datapackage.json",
  eligibility: [],
  outcomes: [
    {
      endpoint: PLAN.endpoint,
      year: 10,
      smallestDifferenceThatMatters: { per1000: 5, reason: "agreed beforehand" },
      periods: [3, 5],
    },
  ],
  strata: ["role:sclerosis"],
};
const run = (options: Parameters<typeof smallStudy>[1] = {}, plan: Partial<FeasibilityPlan> = {}) =>
  runFeasibility(defineFeasibility({ ...ASKED, ...plan }), smallStudy({}, options).source);

describe("a page on feasibility for readers outside the analysis", () => {
  it.each([
    ["300 knees of three surgeons", { knees: 300, surgeons: 3, centres: 1, seed: 11 }],
    ["900 knees of twelve surgeons", { knees: 900, surgeons: 12, centres: 3, seed: 12 }],
  ])("shows no number that rests on a small count: %s", async (_name, options) => {
    const { exhibits } = await run(options);
    for (const audience of ["committee", "external"] as const) {
      const cleared = disclose(exhibits, audience);
      const small = smallCells(exhibits, cleared);
      for (const { id, shown } of small) {
        expect(shown, `${audience}: ${id}`).toMatchObject({ hidden: true, values: [] });
      }
      expect(small.length).toBeGreaterThan(50);
    }
  });

  it("shows no share of a stratum, a year or a centre with fewer than five surgeons", async () => {
    const { exhibits } = await run(
      { knees: 2400, surgeons: 4, centres: 1, seed: 13 },
      { strata: ["role:centre", "role:sclerosis"] },
    );
    const shown = disclose(exhibits, "committee").exhibits;
    for (const id of ["over-time", "by-centre", "by-stratum-1", "by-stratum-2"]) {
      const table = shown.find((one) => one.id === id);
      if (table?.kind !== "table") throw new Error("there is such a table");
      expect(table.rows.flatMap(({ cells }) => cells.flatMap(({ values }) => values))).toEqual([]);
      expect(table.notes).toContain("A level with too few surgeons is not shown.");
    }
  });

  it("splits nothing by surgeon where there are fewer than five of them", async () => {
    const { exhibits } = await run({ knees: 1200, surgeons: 4, centres: 1, seed: 13 });
    const table = disclose(exhibits, "committee").exhibits.find(({ id }) => id === "where-both");
    if (table?.kind !== "table") throw new Error("there is such a table");
    const bands = table.rows.flatMap(({ cells }) => cells.slice(0, 5).flatMap(({ values }) => values));
    expect(bands.filter((value) => value !== 0)).toEqual([]);
  });

  it("draws other numbers for surgeons in another report, and the same ones in the same", async () => {
    const bySurgeon = async (plan: Partial<FeasibilityPlan>) => {
      const { exhibits } = await run({ knees: 1200, surgeons: 12, centres: 3, seed: 13 }, plan);
      const table = disclose(exhibits, "analyst").exhibits.find(({ id }) => id === "by-surgeon");
      return table?.kind === "table"
        ? table.rows.map(({ cells }) => cells.map(({ text }) => text).join())
        : [];
    };
    const [one, same, other] = [
      await bySurgeon({}),
      await bySurgeon({}),
      await bySurgeon({ title: "Another page" }),
    ];
    expect(one).toHaveLength(12);
    expect(same).toEqual(one);
    expect(other).not.toEqual(one);
    expect([...other].sort()).toEqual([...one].sort());
  });
});

describe("runFeasibility()", () => {
  it("counts every question asked as a planned comparison, unless the plan names a number", async () => {
    const all = await run();
    expect(all.comparisons).toBe(13);
    expect(all.level).toBe(0.05 / 13);
    expect((await run({}, { plannedComparisons: 2 })).level).toBe(0.025);
  });

  it("answers an export without any revision in words", async () => {
    const blank = (text: string) => {
      const [header = "", ...rows] = text.trimEnd().split("\n");
      const names = header.split(",");
      const [revised, reason, component] = ["revision_date", "revision_reason", "loosened_component"].map(
        (name) => names.indexOf(name),
      );
      const cleaned = rows.map((row) => {
        const cells = row.split(",");
        for (const at of [revised, reason, component]) if (at !== undefined) cells[at] = "";
        return cells.join(",");
      });
      return `${[header, ...cleaned].join("\n")}\n`;
    };
    const found = await run({ csv: blank });
    const [{ questions = [] } = {}] = found.outcomes;
    expect(new Set(questions.map(({ verdict }) => verdict.kind))).toEqual(new Set(["no"]));
    expect(questions.filter(({ verdict }) => verdict.code === "no-events").length).toBeGreaterThan(8);
    const page = feasibilityFiles(found, disclose(found.exhibits, "committee")).get("index.html") ?? "";
    expect(page).toContain("the outcome was not seen");
    expect(page).not.toMatch(/NaN|Infinity/);
  });

  it("works without surgeons, centres and strata", async () => {
    const without = (descriptor: Record<string, unknown>) =>
      JSON.parse(JSON.stringify(descriptor).replace('"role":"surgeon",', "").replace('"role":"centre",', ""));
    const found = await run({ descriptor: without }, { strata: [] });
    expect(found.exhibits.map(({ id }) => id)).not.toContain("by-surgeon");
    const table = disclose(found.exhibits, "committee").exhibits.find(({ id }) => id === "where-both");
    expect(table?.kind === "table" && table.rows[0]?.cells[0]?.text).toBe("no surgeons");
  });

  it("refuses an export that records no step, and rules that leave nobody", async () => {
    const stepless = (descriptor: Record<string, unknown>) =>
      JSON.parse(JSON.stringify(descriptor).replace(/"role":"technique:[^"]*",|,"state":"[^"]*"/g, ""));
    await expect(run({ descriptor: stepless })).rejects.toThrow(/records no technique step/);
    await expect(
      run({}, { eligibility: [{ label: "the very old", field: "role:ageYears", from: 200 }] }),
    ).rejects.toThrow(UsageError);
  });
});

describe("defineFeasibility()", () => {
  const [outcome] = ASKED.outcomes;
  const matters = (smallestDifferenceThatMatters: object) => ({
    outcomes: [{ ...outcome, smallestDifferenceThatMatters }],
  });

  it.each<[string, object, RegExp]>([
    ["a ratio of 1", matters({ ratio: 1, reason: "x" }), /a ratio of 1 is no difference/],
    ["no difference", matters({ reason: "x" }), /\{ per1000, reason \} or \{ ratio, reason \}/],
    ["a power below the false alarm's", { rules: { power: 0.025 } }, /rules\.power: must be above 0\.025/],
    ["a power of 80", { rules: { power: 80 } }, /rules\.power: must be below 1/],
    ["a level above a half", { falseAlarm: 0.95 }, /falseAlarm: must be below 0\.5/],
    ["an intraclass correlation above 1", { rules: { intraclass: 1.5 } }, /intraclass/],
    ["an unknown step", { steps: ["polishing"] }, /steps\[0\]/],
    ["an unknown threshold", { rules: { leastKnees: 5 } }, /leastKnees/],
    ["an outcome named twice", { outcomes: [outcome, outcome] }, /name each outcome once/],
    ["no comparison", { plannedComparisons: 0 }, /plannedComparisons: must be above 0/],
  ])("refuses %s, naming the place", (_words, spoilt, words) => {
    // Written as a plan in JavaScript could be.
    const plan = { ...ASKED, ...spoilt } as FeasibilityPlan;
    expect(() => defineFeasibility(plan)).toThrow(ArgumentError);
    expect(() => defineFeasibility(plan)).toThrow(words);
  });
});
