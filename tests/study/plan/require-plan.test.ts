import { describe, expect, it } from "vitest";
import type { UsageError } from "../../../src/base/errors.ts";
import { defineFeasibility } from "../../../src/study/feasibility/define-feasibility.ts";
import type { FeasibilityPlan } from "../../../src/study/feasibility/plan.ts";
import { runFeasibility } from "../../../src/study/feasibility/run-feasibility.ts";
import type { StudyPlan } from "../../../src/study/plan/plan.ts";
import { runStudy } from "../../../src/study/run.ts";
import { PLAN, smallStudy } from "../small-export.ts";

const SMALL = { knees: 200, surgeons: 4 };

async function refusal(plan: object, options: Parameters<typeof smallStudy>[1] = {}): Promise<UsageError> {
  const { study, source } = smallStudy(plan as Partial<StudyPlan>, { ...SMALL, ...options });
  return runStudy(study, source).then(
    () => expect.unreachable("the plan was taken"),
    (error) => error,
  );
}

/** Place and nearest word of each fault. */
async function faultsOf(plan: object): Promise<string[]> {
  const { faults } = await refusal(plan);
  return faults.map(({ place, what }) => `${place} ${/did you mean "(.+)"\?$/.exec(what)?.[1] ?? what}`);
}

const band = { fromAge: 50, toAge: 60, fromYear: 2000, toYear: 2010, per100: 1 };

describe("a plan that does not fit its export", () => {
  it("is refused with all its names at once, each with its place and the nearest that exists", async () => {
    const wrong = {
      eligibility: [
        { label: "a", field: "role:diagnosiss", oneOf: ["osteoarthritis"] },
        { label: "b", field: "role:diagnosis", oneOf: ["osteoarthritis", "osteoarthritus"] },
      ],
      exposure: { step: "tourniqet" },
      endpoint: {
        event: { label: "aseptic loosening", revisionFor: ["loosning"] },
        competing: [{ label: "others", revisionFor: ["fracture", "instabilty"] }],
        censoring: "dataCut",
      },
      covariates: ["role:ageYears", "bmii", "ageYear"],
      adjusters: [
        { field: "role:agYears", settled: "before", reason: "a" },
        { field: "role:sex", settled: "before", reason: "b", reference: "femal" },
      ],
      feasibility: { strata: ["centr"] },
      expectedRates: { source: "invented", bands: [{ ...band, sex: "femalle" }] },
    };
    expect(await faultsOf(wrong)).toEqual([
      "eligibility[0].field role:diagnosis",
      "eligibility[1].oneOf[1] osteoarthritis",
      "exposure.step tourniquet",
      "endpoint.event.revisionFor[0] loosening",
      "endpoint.competing[0].revisionFor[1] instability",
      "covariates[1] bmi",
      "covariates[2] age_years",
      "adjusters[0].field role:ageYears",
      "adjusters[1].reference female",
      "expectedRates.bands[0].sex female",
      "feasibility.strata[0] centre",
    ]);
  });

  it("is told what is in the wrong place, and what to do", async () => {
    const wrong = {
      eligibility: [{ label: "a", field: "role:ageYears", oneOf: ["70"] }],
      exposure: { field: "role:ageYears", groups: ["60", "70"] },
      covariates: ["role:patientId"],
      adjusters: [{ field: "role:sex", settled: "before", reason: "a", curve: true }],
      feasibility: { strata: ["role:surgeon"] },
    };
    const { message } = await refusal(wrong);
    for (const line of [
      'eligibility[0], "a": "age_years" has no codes; give from and to',
      'exposure.field: field "age_years" has no closed list of codes, so it has no groups; name a coded field',
      'covariates[0]: field "patient_id" is free text or an identifier; name a number, date or coded field',
      'adjusters[0].curve: field "sex" holds codes, which have no curve; leave it out',
      'feasibility.strata[0]: field "surgeon" has the role',
    ]) {
      expect(message).toContain(`\n  ${line}`);
    }
  });

  it("hears of a role that exists but that no field of the export has", async () => {
    const without = (descriptor: Record<string, unknown>) =>
      JSON.parse(JSON.stringify(descriptor).replace('"role":"bmi",', "").replace('"role":"patientId",', ""));
    const error = await refusal({ covariates: ["role:bmi"], clusters: "patient" }, { descriptor: without });
    expect(error.message).toContain(
      'covariates[0]: no field of the export has the role "bmi"; give the field its role',
    );
    expect(error.message).toContain('clusters: no field of the export has the role "patientId"');
    expect(error.message).not.toContain("did you mean");
  });

  it("is refused before rows with errors are told, and never shows a word of the file that is not declared", async () => {
    const undeclared = (descriptor: Record<string, unknown>) => {
      const copy = JSON.parse(JSON.stringify(descriptor));
      for (const field of copy.resources[0].schema.fields) {
        if (field.role === "implantCode") delete field.categories;
      }
      return copy;
    };
    const csv = (text: string) =>
      text.replace(/\n[^\n]*/, (row) => row.replace(/\d{4}-\d\d-\d\d/, "1066-01-01"));
    const eligibility = [{ label: "a", field: "role:implantCode", oneOf: ["Implant X"] }];
    const error = await refusal({ eligibility }, { csv, descriptor: undeclared });
    expect(error.faults.map(({ code }) => code)).toEqual(["rule-unusable"]);
    expect(error.message).toMatch(
      /the dictionary does not list the \d+ that it holds; declare them as categories/,
    );
    expect(error.faults[0]?.known).toBeUndefined();
  });
});

describe("a plan of questions that does not fit its export", () => {
  it("is refused with all its names at once", async () => {
    const { source } = smallStudy({}, SMALL);
    const asked = { year: 5, smallestDifferenceThatMatters: { ratio: 2, reason: "r" } };
    const study = defineFeasibility({
      id: "a",
      title: "A",
      export: "datapackage.json",
      eligibility: [{ label: "a", field: "role:sexx", oneOf: ["female"] }],
      outcomes: [
        { ...asked, endpoint: PLAN.endpoint },
        { ...asked, endpoint: { ...PLAN.endpoint, event: { label: "b", revisionFor: ["infektion"] } } },
      ],
      strata: ["role:centr"],
    });
    const { faults } = await runFeasibility(study, source).catch((error) => error);
    expect(faults.map(({ place }: { place: string }) => place)).toEqual([
      "eligibility[0].field",
      "outcomes[1].endpoint.event.revisionFor[0]",
      "strata[0]",
    ]);
  });

  it("cannot plan fewer comparisons than it asks: every step that it names, or one for each outcome", () => {
    const plan = {
      id: "a",
      title: "A",
      export: "datapackage.json",
      eligibility: [],
      outcomes: [
        { endpoint: PLAN.endpoint, year: 5, smallestDifferenceThatMatters: { ratio: 2, reason: "r" } },
      ],
    };
    const steps = ["tourniquet", "drilling"] as const;
    expect(() => defineFeasibility({ ...plan, steps, plannedComparisons: 1 })).toThrow(
      /plannedComparisons: counts 1, but 2 questions \(each step and outcome\) are asked here alone; write 2 or more/,
    );
    expect(defineFeasibility({ ...plan, steps, plannedComparisons: 2 }).kind).toBe("feasibility");
    const [asked] = plan.outcomes;
    const other = { ...PLAN.endpoint, event: { label: "b", revisionFor: ["infection"] } };
    const two = [asked, { ...asked, endpoint: other }] as FeasibilityPlan["outcomes"];
    expect(() => defineFeasibility({ ...plan, outcomes: two, plannedComparisons: 1 })).toThrow(
      /counts 1, but 2 questions \(at least one for each outcome\) are asked/,
    );
    expect(defineFeasibility({ ...plan, outcomes: two, plannedComparisons: 3 }).kind).toBe("feasibility");
  });
});

describe("a plan whose shape is wrong", () => {
  it("hears of misspelt keys and choices by the nearest, with what is accepted, and of all else in one message", () => {
    const study = () =>
      smallStudy({
        covariats: [],
        clusters: "surgon",
        endpoint: { ...PLAN.endpoint, censoring: "datacut" },
        adjusters: [{ field: "role:sex", settled: "before", reson: "a", reason: "b" }],
        sections: [{ id: "methods", exhibits: () => [], blocks: () => [] }],
      } as object);
    expect(study).toThrow(/: 5 places of the plan are to be corrected\n/);
    expect(study).toThrow(/\n {2}endpoint\.censoring: must be .*, not "datacut"; did you mean "dataCut"\?\n/);
    expect(study).toThrow(/\n {2}clusters: must be .*, not "surgon"; did you mean "surgeon"\?\n/);
    expect(study).toThrow(/\n {2}covariats: .* did you mean "covariates"\?\n/);
    expect(study).toThrow(/\n {2}adjusters\[0\]\.reson: .* did you mean "reason"\?\n/);
    expect(study).toThrow(
      /\n {2}sections\[0\]\.id: the id "methods" belongs to a standard part of the report; /,
    );
    expect(study).toThrow(
      /\n {2}What adjusters\[0\] says:\n {4}"field", "settled", "reason", "curve", "reference"/,
    );
  });

  it("hears of several contradictions together", () => {
    const study = () =>
      smallStudy({
        eligibility: [{ label: "all", field: "role:sex" }],
        adjusters: [{ field: "role:technique:tourniquet", settled: "after", reason: "a" }],
        plannedComparisons: 0.5,
      });
    expect(study).toThrow(/plannedComparisons: must be a whole number/);
    const other = () =>
      smallStudy({
        eligibility: [{ label: "all", field: "role:sex" }],
        adjusters: [{ field: "role:technique:tourniquet", settled: "after", reason: "a" }],
      });
    expect(other).toThrow(
      /: 3 places .*\n {2}eligibility\[0\]: .*\n {2}adjusters\[0\]: .*\n {2}adjusters\[0\]: /,
    );
  });

  it("names decisions still open beside mistakes", () => {
    const study = () => smallStudy({ title: "?", years: ["?"], clusters: "surgon" } as object);
    expect(study).toThrow(
      /: 3 places of the plan are to be corrected or decided\n {2}title: decide title\n {2}years: /,
    );
  });
});
