import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalJson } from "../../../src/base/content-hash.ts";
import { planChanges } from "../../../src/study/locking/plan-changes.ts";
import { PLAN } from "../small-export.ts";

const adjuster = (field: string, reason = "a reason") => ({ field, settled: "before", reason });

describe("planChanges()", () => {
  it("finds nothing between a plan and its copy with the keys in another order", () => {
    const turned = Object.fromEntries(Object.entries(PLAN).reverse());
    expect(planChanges(PLAN, JSON.parse(JSON.stringify(turned)))).toEqual([]);
  });

  it.each([
    ["a list of numbers", { years: [5] }, { years: [5, 10] }, ["Years: 5 → 5, 10"]],
    ["what is added", {}, { level: 0.9 }, ["Level of intervals: not set → 0.9"]],
    ["what is taken out", { groupsAreOrdered: true }, {}, ["Groups in order: yes → not set"]],
    [
      "a part of a part",
      { smallestDifferenceThatMatters: { per1000: 5, reason: "x" } },
      { smallestDifferenceThatMatters: { per1000: 10, reason: "x" } },
      ["Smallest difference that matters, per 1000: 5 → 10"],
    ],
    [
      "another kind of exposure",
      { exposure: { step: "drilling" } },
      { exposure: { field: "sex", groups: ["f", "m"] } },
      [
        "What is compared, step: “drilling” → not set",
        "What is compared, field: not set → “sex”",
        "What is compared, groups: not set → “f”, “m”",
      ],
    ],
    [
      "a list for a word",
      { endpoint: { event: { label: "a", revisionFor: "any" } } },
      { endpoint: { event: { label: "a", revisionFor: ["loosening"] } } },
      ["What is counted, event, reasons for revision: “any” → “loosening”"],
    ],
  ])("tells %s", (_what, one, two, words) => {
    expect(planChanges(one, two)).toEqual(words);
  });

  it("tells entries apart by name, so that one put before others leaves them as they were", () => {
    const one = { adjusters: [adjuster("age"), adjuster("sex")] };
    const two = { adjusters: [adjuster("bmi"), adjuster("age", "another"), adjuster("sex")] };
    expect(planChanges(one, two)).toEqual([
      "Adjusters, “age”, reason: “a reason” → “another”",
      "Adjusters: “bmi” (field “bmi”; settled “before”; reason “a reason”) added",
    ]);
  });

  it("tells an order that changed, and entries without a name by all they hold", () => {
    expect(
      planChanges(
        { adjusters: [adjuster("age"), adjuster("sex")] },
        { adjusters: [adjuster("sex"), adjuster("age")] },
      ),
    ).toEqual(["Adjusters, order: “age”, “sex” → “sex”, “age”"]);
    const band = { sex: "f", fromAge: 50, fromYear: 2000, toYear: 2010, per100: 1 };
    expect(
      planChanges(
        { expectedRates: { bands: [band] } },
        { expectedRates: { bands: [{ ...band, per100: 2 }] } },
      ),
    ).toEqual([
      "Expected rates, rates: sex “f”; from age 50; from year 2000; to year 2010; per 100 1 taken out",
      "Expected rates, rates: sex “f”; from age 50; from year 2000; to year 2010; per 100 2 added",
    ]);
  });

  it("tells an entry that is there once less", () => {
    expect(planChanges({ bands: [{ sex: "f" }, { sex: "f" }] }, { bands: [{ sex: "f" }] })).toEqual([
      "Rates: { sex “f” }, { sex “f” } → { sex “f” }",
    ]);
  });

  it("says something of any two plans that differ, and nothing of two that do not", () => {
    fc.assert(
      fc.property(fc.object({ maxDepth: 3 }), fc.object({ maxDepth: 3 }), (one, two) => {
        const [a, b] = [one, two].map((value) => JSON.parse(JSON.stringify(value)));
        expect(planChanges(a, a)).toEqual([]);
        expect(planChanges(a, b).length > 0).toBe(canonicalJson(a) !== canonicalJson(b));
      }),
    );
  });
});
