import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { UsageError } from "../../src/base/errors.ts";
import type { Cases } from "../../src/cases/cases.ts";
import type { EligibilityRule } from "../../src/cohort/cohort.ts";
import { selectCohort } from "../../src/cohort/select-cohort.ts";
import { type InventedField, inventedCases } from "../technique/invented-cases.ts";
import { trapExport } from "./trap-exports.ts";

const SEED = 41;
const FIELDS: readonly InventedField[] = [
  { name: "patient", type: "string", role: "patientId" },
  {
    name: "why",
    type: "string",
    role: "diagnosis",
    categories: [
      { value: "oa", label: "osteoarthritis" },
      { value: "ra", label: "rheumatoid" },
      { value: "fx" },
    ],
  },
  { name: "age", type: "number", role: "ageYears" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "room", type: "string" },
];
const cases = inventedCases(FIELDS, [
  ["A", "oa", "70", "2015-01-01", "one"],
  ["A", "oa", "", "2016-01-01", "one"],
  ["B", "ra", "60", "2017-01-01", "secret-name"],
  ["C", "", "80", "", "two"],
  ["D", "fx", "50", "2018-12-31", "two"],
]);

function refusal(rule: object, from: Cases = cases): UsageError {
  try {
    selectCohort(from, [{ label: "the rule", field: "why", ...rule }]);
  } catch (error) {
    if (error instanceof UsageError) return error;
    throw error;
  }
  throw new Error("was not refused");
}

describe("selectCohort()", () => {
  it("takes out by each rule from what the ones before it left, in units and persons", () => {
    const cohort = selectCohort(cases, [
      { label: "osteoarthritis or rheumatoid", field: "role:diagnosis", oneOf: ["oa", "ra"] },
      { label: "aged 65 or over", field: "age", from: 65 },
    ]);
    expect([...cohort.rows]).toEqual([0]);
    expect(cohort.persons).toBe(1);
    expect(cohort.attrition).toEqual([
      {
        label: "all knees of the export",
        removedUnits: 0,
        removedPersons: 0,
        removedForMissing: 0,
        leftUnits: 5,
        leftPersons: 4,
      },
      {
        label: "osteoarthritis or rheumatoid",
        removedUnits: 2,
        removedPersons: 2,
        removedForMissing: 1,
        leftUnits: 3,
        leftPersons: 2,
      },
      // One of the two knees of A goes for want of an age; A stays with the other.
      {
        label: "aged 65 or over",
        removedUnits: 2,
        removedPersons: 2,
        removedForMissing: 1,
        leftUnits: 1,
        leftPersons: 1,
      },
    ]);
  });

  it("keeps everybody without rules", () => {
    expect([...selectCohort(cases, []).rows]).toEqual([0, 1, 2, 3, 4]);
  });

  it("keeps rows whose field is missing only where the rule says so", () => {
    const rule = { label: "adults", field: "age", from: 18 } as const;
    expect([...selectCohort(cases, [rule]).rows]).toEqual([0, 2, 3, 4]);
    const kept = selectCohort(cases, [{ ...rule, missing: "keep" }]);
    expect([...kept.rows]).toEqual([0, 1, 2, 3, 4]);
    expect(kept.attrition[1]?.removedForMissing).toBe(0);
  });

  it("includes both ends of limits, for numbers and for dates", () => {
    const rows = (rule: Omit<EligibilityRule, "label">) => [
      ...selectCohort(cases, [{ label: "limits", ...rule }]).rows,
    ];
    expect(rows({ field: "age", from: 60, to: 70 })).toEqual([0, 2]);
    expect(rows({ field: "role:operationDate", from: "2016-01-01", to: "2018-12-31" })).toEqual([1, 2, 4]);
    expect(rows({ field: "operated", to: "2016-12-31" })).toEqual([0, 1]);
  });

  it("does not show 44 patients as 66, nor 66 knees as 44 (export C19)", () => {
    const { attrition, persons, rows } = selectCohort(trapExport("C19"), []);
    expect(attrition[0]).toMatchObject({ leftUnits: 66, leftPersons: 44 });
    expect([rows.length, persons]).toEqual([66, 44]);
  });

  it("adds up in units from step to step and agrees with rules read row by row (twin, identity, seeded)", () => {
    const ages = fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 5 })), {
      minLength: 1,
      maxLength: 30,
    });
    fc.assert(
      fc.property(ages, fc.array(fc.integer({ min: 0, max: 6 }), { maxLength: 4 }), (people, limits) => {
        const rows = people.map(([age, patient]) => [
          String(patient),
          "oa",
          age === 9 ? "" : String(age),
          "",
          "one",
        ]);
        const from = inventedCases(FIELDS, rows);
        const rules = limits.map((limit) => ({ label: `from ${limit}`, field: "age", from: limit }));
        const isKept = ([age]: readonly [number, number]) =>
          limits.length === 0 || (age < 9 && limits.every((limit) => age >= limit));
        const twin = people.flatMap((person, row) => (isKept(person) ? [row] : []));
        if (twin.length === 0) {
          expect(() => selectCohort(from, rules)).toThrow(UsageError);
          return;
        }
        const cohort = selectCohort(from, rules);
        expect([...cohort.rows]).toEqual(twin);
        expect(cohort.persons).toBe(new Set(twin.map((row) => people[row]?.[1])).size);
        cohort.attrition.slice(1).forEach((step, at) => {
          expect(step.leftUnits + step.removedUnits).toBe(cohort.attrition[at]?.leftUnits);
          expect(step.removedForMissing).toBeLessThanOrEqual(step.removedUnits);
        });
      }),
      { seed: SEED },
    );
  });

  it("stops at an empty cohort and names the rule that emptied it", () => {
    const rules = [
      { label: "osteoarthritis", field: "why", oneOf: ["oa"] },
      { label: "very old", field: "age", from: 100 },
    ];
    expect(() => selectCohort(cases, rules)).toThrow(/"very old" left none of the knees: 1 of 2/);
    expect(refusal({ oneOf: ["ra"] }, inventedCases(FIELDS, [])).code).toBe("empty-cohort");
    expect(refusal({ field: "age", from: 100 }).code).toBe("empty-cohort");
  });

  it.each([
    ["an unknown field", { field: "wy", oneOf: ["oa"] }, "unknown-field"],
    ["an unknown role", { field: "role:colour", oneOf: ["oa"] }, "unknown-role"],
    ["a role the export lacks", { field: "role:sex", oneOf: ["oa"] }, "role-not-in-export"],
    ["a code that is not in the dictionary", { oneOf: ["oa", "gout"] }, "rule-unusable"],
    ["no condition", {}, "rule-unusable"],
    ["no codes", { oneOf: [] }, "rule-unusable"],
    ["limits for codes", { from: 1 }, "rule-unusable"],
    ["codes for numbers", { field: "age", oneOf: ["70"] }, "rule-unusable"],
    ["a date for a number", { field: "age", from: "2015-01-01" }, "rule-unusable"],
    ["NaN as a limit", { field: "age", from: Number.NaN }, "rule-unusable"],
    ["a number for a date", { field: "operated", from: 2015 }, "rule-unusable"],
    ["a day that is not in the calendar", { field: "operated", from: "2015-02-30" }, "rule-unusable"],
    ["limits the wrong way round", { field: "age", from: 80, to: 60 }, "rule-unusable"],
  ])("refuses a rule with %s", (_what, rule, code) => {
    expect(refusal(rule).code).toBe(code);
  });

  it("lists the codes a rule may name, but never words that stand only in the file", () => {
    expect(refusal({ oneOf: ["gout"] }).message).toContain('"ra"');
    expect(refusal({ field: "room", oneOf: ["three"] }).message).not.toContain("secret-name");
  });
});
