import { describe, expect, it } from "vitest";
import { defineStudy } from "../../../src/study/plan/define-study.ts";
import type { StudyPlan } from "../../../src/study/plan/plan.ts";

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
    expect(() => defineStudy({ ...plan, endpoint })).toThrow(
      /endpoint: names two outcomes "aseptic loosening"/,
    );
  });

  it("refuses a rule that starts after it ends, and one that keeps everything", () => {
    const rule = { label: "years", field: "role:operationDate" };
    expect(() =>
      defineStudy({ ...plan, eligibility: [{ ...rule, from: "2020-01-01", to: "2010-01-01" }] }),
    ).toThrow(/starts after it ends/);
    expect(() => defineStudy({ ...plan, eligibility: [rule] })).toThrow(/keeps everything/);
  });

  it.each([
    ["exposure", { exposure: { groups: ["a", "b"] } }, /exposure: must be { step }.* or { field, groups }/],
    ["exposure of one group", { exposure: { field: "a", groups: ["a"] } }, /exposure.*: must .*at least/],
    [
      "outcome",
      { endpoint: { ...plan.endpoint, event: { label: "x" } } },
      /endpoint\.event: must be { label, rev/,
    ],
    [
      "censoring",
      { endpoint: { ...plan.endpoint, censoring: "never" } },
      /censoring: must be "dataCut" or "last/,
    ],
    ["clusters", { clusters: "hospital" }, /clusters: must be "auto" or "surgeon" or "patient" or "none"/],
    ["missing title", { title: undefined }, /title: is missing; give text/],
    ["empty title", { title: " " }, /title: must not be empty/],
    ["number for a text", { title: 5 }, /title: must be text/],
    ["level", { level: 95 }, /level: must be below 1/],
    ["level 0", { level: 0 }, /level: must be above 0\.5/],
    ["a level of a half", { level: 0.5 }, /level: must be above 0\.5, as 0\.95 for 95 %/],
    ["unknown name", { colour: "red" }, /colour: "colour" is nothing that a plan says here; take it out/],
    ["years", { years: [] }, /years: must list at least 1/],
    ["year 0", { years: [0, 5] }, /years\[0\]: must be a number of years above 0/],
    ["negative period", { periods: [-1] }, /periods\[0\]: must be a number of years above 0/],
    ["comparisons", { plannedComparisons: 1.5 }, /plannedComparisons: must be a whole number/],
    [
      "bound",
      { eligibility: [{ label: "a", field: "b", from: true }] },
      /from: must be a number or an ISO date/,
    ],
  ])("says in plain words what is accepted: %s", (_what, wrong, words) => {
    const declare = () => defineStudy({ ...plan, ...wrong } as unknown as StudyPlan);
    expect(declare).toThrow(words);
    expect(declare).not.toThrow(/Invalid|expected \w+,|Unrecognized|Too (small|big)|received/);
  });

  const revision = (label: string, revisionFor: readonly string[] | "any" | "other") => ({
    label,
    revisionFor,
  });
  const death = (label: string) => ({ label, death: true as const });
  it.each([
    [
      "one reason in two outcomes",
      [revision("a", ["loosening"]), revision("b", ["loosening"])],
      /"loosening" twice/,
    ],
    ["one reason twice in an outcome", [revision("a", ["loosening", "loosening"])], /"loosening" twice/],
    ['"other" in two outcomes', [revision("a", "other"), revision("b", "other")], /"other" in two outcomes/],
    [
      '"any" beside reasons',
      [revision("a", "any"), revision("b", ["infection"])],
      /"a" counts .* any reason/,
    ],
    ['"any" beside "other"', [revision("a", "other"), revision("b", "any")], /"b" counts .* any reason/],
    ["death twice", [revision("a", "any"), death("b"), death("c")], /death as two outcomes/],
    [
      "one status twice",
      [
        { label: "a", status: "x" },
        { label: "b", status: "x" },
      ],
      /status "x" in two/,
    ],
  ])("refuses an endpoint with %s", (_what, [event, ...competing], words) => {
    if (event === undefined) throw new Error("each line has an event");
    const endpoint = { ...plan.endpoint, event, competing };
    expect(() => defineStudy({ ...plan, endpoint })).toThrow(words);
  });

  const band = { sex: "f", fromAge: 50, toAge: 60, fromYear: 2000, toYear: 2010, per100: 1 };
  it.each<[string, object, RegExp]>([
    ["ages exchanged", [{ ...band, toAge: 40 }], /rate 1 of the table: ages must be .* in order/],
    ["an age beyond any", [{ ...band, fromAge: 131, toAge: 140 }], /whole years from 0 to 130/],
    [
      "years exchanged",
      [band, { ...band, fromYear: 2012 }],
      /rate 2 of the table: calendar years .* in order/,
    ],
    [
      "two rates for one cell",
      [band, { ...band, fromAge: 60, toAge: 70, fromYear: 2010 }],
      /overlaps .* at age 60 in 2010/,
    ],
  ])("refuses a table of rates with %s", (_what, bands, words) => {
    const expectedRates = { source: "invented", bands } as NonNullable<StudyPlan["expectedRates"]>;
    expect(() => defineStudy({ ...plan, expectedRates })).toThrow(words);
    expect(() => defineStudy({ ...plan, expectedRates })).toThrow(/^defineStudy: expectedRates/);
  });

  it("takes bands that touch, and the same ages of another sex", () => {
    const bands = [band, { ...band, fromAge: 61, toAge: 70 }, { ...band, sex: "m" }];
    expect(() => defineStudy({ ...plan, expectedRates: { source: "invented", bands } })).not.toThrow();
  });

  it("refuses a chance of being seen no larger than that of a false alarm in one direction", () => {
    const wrong = { ...plan, level: 0.6, feasibility: { power: 0.2 } };
    expect(() => defineStudy(wrong)).toThrow(/feasibility\.power: must be above 0\.2/);
    expect(() => defineStudy({ ...wrong, feasibility: { power: 0.21 } })).not.toThrow();
  });

  it("refuses two groups of one name", () => {
    const twice = /exposure: names the group "x" twice/;
    expect(() => defineStudy({ ...plan, exposure: { field: "a", groups: ["x", "x"] } })).toThrow(twice);
    const labels = { done: "x", notDone: "x" };
    expect(() => defineStudy({ ...plan, exposure: { step: "tourniquet", labels } })).toThrow(twice);
  });
});
