import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { reportFiles } from "../../../src/study/making/report-files.ts";
import { defineStudy } from "../../../src/study/plan/define-study.ts";
import type { StudyPlan } from "../../../src/study/plan/plan.ts";
import { runStudy } from "../../../src/study/run.ts";
import { SECTIONS } from "../../../src/study/sections/sections.ts";
import { PLAN, smallStudy } from "../small-export.ts";

const run = (plan: Partial<StudyPlan> = {}, knees = 2000) => {
  const { study, source } = smallStudy(plan, { knees, surgeons: 12, centres: 2, seed: 21 });
  return runStudy(study, source);
};
const found = async (plan: Partial<StudyPlan> = {}, knees = 2000) => {
  const { estimates } = await run(plan, knees);
  if (!estimates.feasibility.computed) throw new Error(estimates.feasibility.code);
  return { ...estimates.feasibility, estimates };
};

describe("feasibility of a study's own question", () => {
  it("stands before every result", () => {
    const ids = SECTIONS.map(({ id }) => id);
    for (const later of ["over-time", "effects"]) {
      expect(ids.indexOf("feasibility")).toBeLessThan(ids.indexOf(later));
    }
  });

  it("counts the events of all groups, and those of each period apart", async () => {
    const { question, estimates } = await found({}, 6000);
    expect(question.periods.length).toBeGreaterThan(1);
    const events = estimates.compared.reduce((sum, group) => sum + group.events.units, 0);
    expect(question.compared.events.units).toBe(events);
    expect(question.periods.reduce((sum, period) => sum + period.events.units, 0)).toBe(events);
    expect(question.compared.size.units).toBe(estimates.compared.reduce((sum, { units }) => sum + units, 0));
  });

  it("takes thresholds, strata and the ratio that matters from the plan", async () => {
    const { question } = await found({ feasibility: { ratioThatMatters: 0.25, strata: ["role:sclerosis"] } });
    expect(question.matters).toMatchObject({ ratio: 4 });
    expect(question.variation.strata.map(({ overlap }) => overlap.levelsWithBoth.length)).toEqual([3]);
    const strict = await found({ feasibility: { leastShare: 0.5 } });
    expect(strict.question.verdict.code).toBe("one-sided");
  });

  it("says its verdict in the brief and in the section, with every rule", async () => {
    const made = await run();
    if (!made.estimates.feasibility.computed) throw new Error("two groups have an answer");
    const page = reportFiles(made, disclose(made.exhibits, "committee")).get("index.html") ?? "";
    const { words } = made.estimates.feasibility.question.verdict;
    expect(page).toContain(`By the stated rules: ${words}.`);
    expect(page).toContain("The rules of the verdict, tried in this order:");
    expect(page.indexOf('id="feasibility"')).toBeLessThan(page.indexOf('id="over-time"'));
  });

  it("has no rules for surgeons where the export names none", async () => {
    const withoutSurgeons = (descriptor: Record<string, unknown>) =>
      JSON.parse(JSON.stringify(descriptor).replace('"role":"surgeon",', ""));
    const { study, source } = smallStudy({}, { knees: 2000, surgeons: 12, descriptor: withoutSurgeons });
    const made = await runStudy(study, source);
    const page = reportFiles(made, disclose(made.exhibits, "committee")).get("index.html") ?? "";
    expect(page.includes("The rules of the verdict, tried in this order:")).toBe(true);
    expect(page.includes("The same where it is fixed within surgeon")).toBe(false);
  });

  it("compares a field's two groups without the others, and gives no verdict on three", async () => {
    const { question } = await found({ exposure: { field: "role:centre", groups: ["C1", "C2"] } });
    expect(question.states.map(({ units }) => units).slice(2)).toEqual([0, 0]);
    const plan = { exposure: { field: "role:asaGrade", groups: ["1", "2", "3"] } };
    expect((await run(plan)).estimates.feasibility).toMatchObject({ code: "several-groups" });
  });

  it.each([
    [{ ratioThatMatters: 1 }, /ratioThatMatters: must not be 1/],
    [{ power: 1.2 }, /feasibility\.power/],
    [{ leastKnees: 3 }, /leastKnees/],
  ])("refuses %j in a plan, naming the place", (feasibility, words) => {
    // As a plan in JavaScript could be written.
    expect(() => defineStudy({ ...PLAN, feasibility } as StudyPlan)).toThrow(words);
  });
});
