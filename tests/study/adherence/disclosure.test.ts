import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { defineAdherence } from "../../../src/study/adherence/define-adherence.ts";
import { adherenceFiles } from "../../../src/study/adherence/report.ts";
import { runAdherence } from "../../../src/study/adherence/run-adherence.ts";
import { attackerOf, solveSums } from "../../disclosure/attacker.ts";
import { smallStudy } from "../small-export.ts";

const PLAN = defineAdherence({
  id: "what-we-do",
  title: "What we do",
  question: "Do we do what we say we do?",
  export: "datapackage.json",
  eligibility: [],
  standards: [
    { step: "pulsedLavage", percentAtLeast: 90, reason: "agreed" },
    { step: "tibiaFirst", percentAtLeast: 90, reason: "agreed" },
  ],
  change: { on: "2015-01-01", what: "a checklist" },
  yearsInBlock: 4,
  strata: ["role:sclerosis"],
});

describe("a small unit's page on adherence", () => {
  it.each([
    ["committee", 160, 11],
    ["committee", 420, 12],
    ["external", 160, 13],
    ["external", 420, 14],
  ] as const)("gives the %s no small count of %i knees back", async (audience, knees, seed) => {
    const { source } = smallStudy({}, { knees, seed });
    const run = await runAdherence(PLAN, source);
    const cleared = disclose(run.exhibits, audience);
    const attacker = attackerOf(run.exhibits, cleared);
    const { fixed } = solveSums(attacker);
    expect(attacker.small.length).toBeGreaterThan(10);
    expect(attacker.small.filter((key) => fixed.has(key))).toEqual([]);
    // The same attacker wins where nothing is hidden.
    const open = attackerOf(run.exhibits, {
      ...disclose(run.exhibits, "analyst"),
      threshold: cleared.threshold,
    });
    const found = solveSums(open).fixed;
    expect(open.small.every((key) => found.has(key))).toBe(true);
    const page = adherenceFiles(run, cleared).get("index.html") ?? "";
    expect(page).toContain("hidden");
    expect(page).not.toMatch(/NaN|Infinity|undefined/);
  });
});
