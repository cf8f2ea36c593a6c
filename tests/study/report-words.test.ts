import { describe, expect, it } from "vitest";
import { STROBE } from "../../src/study/checklists/strobe.ts";
import { runStudy } from "../../src/study/run.ts";
import { completenessExhibit } from "../../src/study/sections/completeness.ts";
import { cutWords } from "../../src/study/sections/cut-words.ts";
import { methodSentences } from "../../src/study/sections/methods.ts";
import { smallStudy } from "./small-export.ts";

const ADJUSTER = { field: "role:ageYears", settled: "before", reason: "r" } as const;
const BAND = { fromAge: 0, toAge: 120, fromYear: 2000, toYear: 2030, sex: "female", per100: 1 };

async function known() {
  const { study, source } = smallStudy();
  const { estimates, facts } = await runStudy(study, source);
  const strobe = (item: string, of = facts) => {
    const answer = STROBE.find((one) => one.item === item)?.answer(of);
    return answer !== undefined && "filled" in answer ? answer.filled : undefined;
  };
  const ends = (role: string) => {
    const [resource] = facts.descriptor.resources;
    if (resource === undefined) throw new Error("a table was expected");
    const fields = [...resource.schema.fields, { name: "film", type: "date" as const, role }];
    const descriptor = { ...facts.descriptor, resources: [{ ...resource, schema: { fields } }] };
    const endpoint = { ...facts.plan.endpoint, censoring: "lastContact" as const };
    return methodSentences({ ...facts, descriptor, plan: { ...facts.plan, endpoint } }, 5).join(" ");
  };
  return { estimates, facts, strobe, ends };
}

describe("what a report says of itself", () => {
  it("names every cut that it makes, and none where it makes none", async () => {
    const { facts, strobe } = await known();
    expect(strobe("16b")).toMatch(/years of operation into stretches/);
    expect(methodSentences(facts, 5).join(" ")).toMatch(/some cut: years of operation into stretches/);
    const without = { ...facts, hasDates: false };
    expect(strobe("16b", without)).toBe("no number is cut");
    expect(methodSentences(without, 5).join(" ")).toContain("none is cut into groups");
    const plan = { ...facts.plan, expectedRates: { source: "s", bands: [BAND] } };
    expect(cutWords({ plan, hasDates: false })).toEqual(["age into the bands of the table of rates"]);
  });

  it("ends follow-up at the last radiograph only where the export has any", async () => {
    const { ends } = await known();
    expect(ends("radiographDate")).toContain("or at the last radiograph where that is later");
    expect(ends("entryDate")).toMatch(/ends at the last contact\. /);
  });

  it("counts one adjuster as one", async () => {
    const { facts, strobe } = await known();
    const withAdjusters = (count: number) => ({
      ...facts,
      plan: { ...facts.plan, adjusters: Array.from({ length: count }, () => ADJUSTER) },
    });
    expect(strobe("16a", withAdjusters(1))).toBe("1 adjuster, with its reason");
    expect(strobe("16a", withAdjusters(2))).toBe("2 adjusters, each with its reason");
    expect(strobe("9")).toContain("late records count as not recorded");
  });

  it("explains follow-up only where the table has a row of it", async () => {
    const { estimates, facts } = await known();
    const notes = (followUp: typeof estimates.followUp) =>
      completenessExhibit({ ...estimates, followUp }, facts)[0]?.notes?.join(" ");
    expect(notes(estimates.followUp)).toMatch(/^Follow-up: .* All others: with a value at the start\.$/);
    expect(notes([])).toBe("In per cent: with a value at the start.");
  });
});
