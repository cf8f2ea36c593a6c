import { describe, expect, it } from "vitest";
import { loadDescriptor } from "../../../src/cases/load-descriptor.ts";
import { planFromDescriptor } from "../../../src/study/feasibility/plan-from-descriptor.ts";
import { descriptor, writeExport } from "../../cases/export-file.ts";
import { CASE_FIELDS, DEATHS, linkedDescriptor, REVISIONS } from "../../cases/linked-exports.ts";
import { CASES, TICKS } from "../../cases/ticked-fields.ts";

const { descriptor: ticked } = loadDescriptor(writeExport("", descriptor([...CASES, ...TICKS])));
const asked = (outcome?: string, dictionary = ticked) =>
  planFromDescriptor(dictionary, {
    ...{ id: "q", export: "there", year: 10, periods: [], strata: [] },
    ...(outcome !== undefined && { outcome }),
    matters: { per1000: 5, reason: "r" },
  }).outcomes[0]?.endpoint;

describe("the plan of an export whose reasons are ticked", () => {
  it("asks about loosening where that is ticked, and about any ticked reason on demand", () => {
    expect(asked()?.event).toEqual({ label: "aseptic loosening", revisionFor: ["loosening"] });
    expect(asked("loosening")).toEqual(asked());
    expect(asked("infection")?.event).toEqual({ label: "infection", revisionFor: ["infection"] });
    expect(() => asked("wear")).toThrow(/it lists "any", "pain", "loosening", "infection"/);
  });

  it("finds revisions and deaths in tables of their own", () => {
    const cases = CASE_FIELDS.filter(({ role }) => role !== "revisionDate");
    const { descriptor: linked } = loadDescriptor(
      writeExport("", linkedDescriptor([REVISIONS, DEATHS], cases)),
    );
    expect(asked(undefined, linked)).toMatchObject({
      event: { revisionFor: ["loosening"] },
      competing: [{ revisionFor: "other" }, { death: true }],
    });
  });
});
