import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CASE_ROLES, TECHNIQUE_STEPS } from "../../../src/cases/roles.ts";
import { CENSORING_RULES } from "../../../src/cohort/endpoint.ts";
import { CLUSTER_CHOICES, type StudyPlan } from "../../../src/study/plan/plan.ts";
import { NAMED_WEIGHTINGS } from "../../../src/survival/log-rank-weighting.ts";

const page = readFileSync(join(import.meta.dirname, "../../../reports/what-a-plan-may-say.md"), "utf8");

/** The compiler asks for a key that is added to the plan. */
const PLAN_KEYS: Readonly<Record<keyof StudyPlan, true>> = {
  id: true,
  title: true,
  question: true,
  export: true,
  eligibility: true,
  exposure: true,
  endpoint: true,
  eventWords: true,
  years: true,
  periods: true,
  clusters: true,
  covariates: true,
  adjusters: true,
  smallestDifferenceThatMatters: true,
  groupsAreOrdered: true,
  weighting: true,
  expectedRates: true,
  lossDays: true,
  level: true,
  plannedComparisons: true,
  feasibility: true,
};

describe("reports/what-a-plan-may-say.md", () => {
  it.each([
    ["role", CASE_ROLES],
    ["step", TECHNIQUE_STEPS],
    ["key of a plan", Object.keys(PLAN_KEYS)],
  ])("names every %s", (_what, names) => {
    expect(names.filter((name) => !page.includes(`\`${name}\``))).toEqual([]);
  });

  it.each([
    ["censoring rule", CENSORING_RULES],
    ["choice of clusters", CLUSTER_CHOICES],
    ["weighting that is not the log-rank test itself", NAMED_WEIGHTINGS.filter((name) => name !== "equal")],
  ])("names every %s", (_what, words) => {
    expect(words.filter((word) => !page.includes(`\`"${word}"\``))).toEqual([]);
  });
});
