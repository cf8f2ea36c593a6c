import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { defineAdherence } from "../../../src/study/adherence/define-adherence.ts";
import type { AdherencePlan } from "../../../src/study/adherence/plan.ts";
import { adherenceFiles } from "../../../src/study/adherence/report.ts";
import { runAdherence } from "../../../src/study/adherence/run-adherence.ts";
import { smallStudy } from "../small-export.ts";

const PLAN: AdherencePlan = {
  id: "what-we-do",
  title: "What we do",
  question: "Do we?",
  export: "datapackage.json",
  eligibility: [{ label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] }],
  standards: [{ step: "pulsedLavage", percentAtLeast: 80, reason: "agreed" }],
};

interface Field {
  name: string;
  role?: string;
  constraints?: Record<string, unknown>;
  categories?: { value: string; label: string; state?: string }[];
}
/** The export with some of its fields changed, and blanks allowed everywhere. */
const fields = (change: (field: Field) => Field) => (descriptor: Record<string, unknown>) => {
  const copy = descriptor as { resources: { schema: { fields: Field[] } }[] };
  for (const { schema } of copy.resources) {
    schema.fields = schema.fields.map(({ constraints, ...field }) => {
      const { required: _, ...kept } = constraints ?? {};
      return change({ ...field, constraints: kept });
    });
  }
  return copy;
};
const withoutRole = (role: string) =>
  fields(({ role: own, categories, ...field }) => {
    const codes = categories === undefined ? {} : { categories };
    if (own === undefined || !own.startsWith(role)) return { ...field, ...codes, ...(own && { role: own }) };
    const stateless = categories?.map(({ state: _, ...one }) => one);
    return stateless === undefined ? field : { ...field, categories: stateless };
  });

describe("runAdherence()", () => {
  it("refuses standards and sets of steps that the export does not record, all at once", async () => {
    const { source } = smallStudy({}, { descriptor: withoutRole("technique:pulsedLavage") });
    const plan = defineAdherence({ ...PLAN, together: ["pulsedLavage", "tourniquet"] });
    await expect(runAdherence(plan, source)).rejects.toThrow(/standards\[0\][\s\S]*together\[0\]/);
  });

  it("needs no surgeons, and refuses a day on one side of the export", async () => {
    const { source } = smallStudy({}, { descriptor: withoutRole("surgeon") });
    const run = await runAdherence(defineAdherence(PLAN), source);
    expect(run.overYears?.levels.every(({ surgeons }) => surgeons === undefined)).toBe(true);
    await expect(
      runAdherence(defineAdherence({ ...PLAN, change: { on: "1990-01-01", what: "a form" } }), source),
    ).rejects.toThrow(/no operation lies before 1990-01-01; name a day within the export/);
  });

  it("takes any label for a level, whatever it says", async () => {
    const { source } = smallStudy(
      {},
      {
        csv: (text) => text.replaceAll(",marked,", ",,"),
        descriptor: fields((field) =>
          field.role === "sclerosis"
            ? {
                ...field,
                categories: (field.categories ?? []).map((one, at) => ({
                  ...one,
                  label: at === 0 ? "elsewhere" : at === 1 ? "at no level" : "no level",
                })),
              }
            : field,
        ),
      },
    );
    const run = await runAdherence(defineAdherence({ ...PLAN, strata: ["role:sclerosis"] }), source);
    expect(run.strata[0]?.elsewhere).toBeDefined();
    expect(disclose(run.exhibits, "committee").exhibits.length).toBeGreaterThan(5);
  });

  it("says how many were looked at, and who was not", async () => {
    const { source } = smallStudy();
    const run = await runAdherence(defineAdherence(PLAN), source);
    const page = adherenceFiles(run, disclose(run.exhibits, "committee")).get("index.html") ?? "";
    expect(page.replaceAll(/[\u00a0\u202f]/g, " ")).toContain(
      `Looked at: ${run.looked.units} knees in ${run.looked.persons} patients.`,
    );
    expect(page).toContain("not: osteoarthritis");
  });
});
