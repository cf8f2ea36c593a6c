import { describe, expect, it } from "vitest";
import type { InventedCementedKnees } from "../../../notebooks/invented-cemented-knees.fields.ts";
import { defineStudy, type Study } from "../../../src/study/plan/define-study.ts";
import { PLAN } from "../small-export.ts";

const { id, title, question, years, periods, smallestDifferenceThatMatters } = PLAN;
const common = { id, title, question, export: PLAN.export, years, periods, smallestDifferenceThatMatters };
const study = (declare: () => Study) => expect(declare().kind).toBe("study");

// The compiler is the judge of this file: a line that it does not refuse although it is told to makes `npm test` fail.
describe("defineStudy() with the types of an export", () => {
  it("takes what the export has", () => {
    study(() =>
      defineStudy<InventedCementedKnees>({
        ...common,
        eligibility: [
          { label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] },
          { label: "of age", field: "age_years", from: 18, missing: "keep" },
          { label: "in the years", field: "role:operationDate", from: "2010-01-01" },
          { label: "in one centre", field: "centre", oneOf: ["C1"] },
        ],
        exposure: { step: "stillUntilSet" },
        endpoint: {
          event: { label: "loosening", revisionFor: ["loosening"] },
          competing: [
            { label: "another", revisionFor: "other" },
            { label: "death", death: true },
          ],
          censoring: "dataCut",
        },
        covariates: ["role:sex", "bmi"],
        adjusters: [
          { field: "role:ageYears", settled: "before", reason: "r", curve: true },
          { field: "sex", settled: "before", reason: "r", reference: "female" },
        ],
        feasibility: { strata: ["sclerosis"] },
      }),
    );
  });

  const endpoint = {
    event: { label: "a", revisionFor: "any" },
    competing: [],
    censoring: "dataCut",
  } as const;
  const declared = {
    ...common,
    eligibility: [],
    exposure: { step: "drilling" },
    endpoint,
    covariates: [],
  } as const;

  it("refuses a field, a step, a code or a reason that it has not", () => {
    study(() =>
      defineStudy<InventedCementedKnees>({
        ...declared,
        endpoint: {
          ...endpoint,
          // @ts-expect-error a reason of another export
          event: { label: "a", revisionFor: ["lysis"] },
        },
        // @ts-expect-error no such field
        covariates: ["role:height"],
      }),
    );
    study(() =>
      defineStudy<InventedCementedKnees>({
        ...declared,
        // @ts-expect-error no such step
        exposure: { step: "leftStill" },
      }),
    );
  });

  it("refuses a code of another field, a range of codes, and codes of a number", () => {
    study(() =>
      defineStudy<InventedCementedKnees>({
        ...declared,
        eligibility: [
          // @ts-expect-error a code of another field
          { label: "a", field: "role:sex", oneOf: ["osteoarthritis"] },
          // @ts-expect-error a range of codes
          { label: "b", field: "role:sex", from: 1 },
          // @ts-expect-error codes of a number
          { label: "c", field: "role:ageYears", oneOf: ["60"] },
        ],
        adjusters: [
          // @ts-expect-error a curve through codes
          { field: "role:sex", settled: "before", reason: "r", curve: true },
          // @ts-expect-error what happened afterwards
          { field: "role:revisionDate", settled: "before", reason: "r" },
        ],
      }),
    );
  });

  it("takes any name where no export is given", () => {
    study(() => defineStudy({ ...PLAN, covariates: ["whatever"] }));
  });
});
