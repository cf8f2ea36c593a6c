import { describe, expect, it } from "vitest";
import { defineStudy } from "../../src/study/define-study.ts";
import type { StudyPlan } from "../../src/study/plan.ts";

const plan: StudyPlan = {
  id: "a-question",
  title: "A question",
  question: "Does it matter?",
  export: "datapackage.json",
  eligibility: [],
  exposure: { step: "tourniquet" },
  endpoint: {
    event: { label: "aseptic loosening", revisionFor: ["loosening"] },
    competing: [{ label: "death", death: true }],
    censoring: "dataCut",
  },
  years: [5, 10],
  periods: [3, 5],
  covariates: [],
  smallestDifferenceThatMatters: { per1000: 5, reason: "agreed beforehand" },
};

describe("defineStudy()", () => {
  it("hands back the plan it was given", () => {
    expect(defineStudy(plan)).toEqual({ kind: "study", plan });
  });

  it("lists every place of a plan that is not as it should be", () => {
    const wrong = { ...plan, id: "A question", years: [10, 5], level: 95, colour: "red" };
    expect(() => defineStudy(wrong as StudyPlan)).toThrow(/id:.*\n.*years.*\n.*level(.|\n)*colour/);
  });

  it("refuses two outcomes of one name", () => {
    const endpoint = { ...plan.endpoint, competing: [{ label: "aseptic loosening", death: true as const }] };
    expect(() => defineStudy({ ...plan, endpoint })).toThrow(/two outcomes "aseptic loosening"/);
  });

  it("refuses a rule that starts after it ends, and one that keeps everything", () => {
    const rule = { label: "years", field: "role:operationDate" };
    expect(() =>
      defineStudy({ ...plan, eligibility: [{ ...rule, from: "2020-01-01", to: "2010-01-01" }] }),
    ).toThrow(/starts after it ends/);
    expect(() => defineStudy({ ...plan, eligibility: [rule] })).toThrow(/keeps everything/);
  });
});
