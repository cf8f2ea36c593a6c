import { describe, expect, it } from "vitest";
import { checkCases } from "../../src/cases/check-cases.ts";
import { loadDescriptor } from "../../src/cases/load-descriptor.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { REVISION_REASONS, revisionReasonOf } from "../../src/cases/revision-reasons.ts";
import { loosenedComponents } from "../../src/cohort/loosened-components.ts";
import { descriptor, type Json, writeExport } from "./export-file.ts";

const REASON: Json = {
  name: "reasons",
  type: "list",
  delimiter: "|",
  role: "revisionReason",
  categories: [
    { value: "pain" },
    { value: "lysis" },
    { value: "inf", reason: "infection" },
    { value: "patella", label: "secondary patella" },
    { value: "loosening", label: "aseptic loosening" },
  ],
};
const FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "seen", type: "date", role: "lastFollowUpDate" },
  REASON,
  {
    name: "component",
    type: "string",
    role: "loosenedComponent",
    categories: [{ value: "tibia" }, { value: "femur" }],
  },
];

async function read(rows: readonly (readonly [string, string?])[]) {
  const lines = rows.map(
    ([reasons, component = ""], at) =>
      `K${at},2015-01-${String(at + 10)},${reasons === "" ? "" : `2017-02-${String(at + 10)}`},2019-01-0${(at % 9) + 1},${reasons},${component}`,
  );
  return readCases(
    writeExport(`case,operated,revised,seen,reasons,component\n${lines.join("\n")}\n`, descriptor(FIELDS)),
  );
}

describe("a field with several reasons", () => {
  it("gives the main reason by the stated order, whatever the order in the cell, and keeps every tick", async () => {
    const cases = await read([
      ["pain|inf"],
      ["inf|pain"],
      ["PAIN | loosening"],
      ["patella"],
      [""],
      ["lysis|loosening"],
    ]);
    const main = cases.columns.get("reasons");
    const words =
      main?.kind === "code"
        ? [...main.values].map((code, row) => (main.missing[row] ? null : main.codes[code]))
        : [];
    expect(words).toEqual(["inf", "inf", "loosening", "patella", null, "lysis"]);
    const { tickedReasons: ticked } = cases;
    expect(ticked?.sets[ticked.setOfRow[2] ?? 0]).toEqual(["pain", "loosening"]);
    expect(ticked).toMatchObject({ several: 4, changed: 2 });
    const counts = Object.fromEntries(cases.findings.groups.map(({ code, count }) => [code, count]));
    expect(counts).toMatchObject({ "several-reasons-ticked": 4, "main-reason-by-order": 2 });
  });

  it("makes a cell with an unknown word unreadable: the unknown reason might be the main one", async () => {
    const cases = await read([["pain|thing"], ["pain"]]);
    expect(cases.findings.groups.map(({ code, count }) => [code, count])).toContainEqual([
      "word-not-in-dictionary",
      1,
    ]);
    expect([...(cases.columns.get("reasons")?.missing ?? [])].map((mark) => mark > 0)).toEqual([true, false]);
  });

  it("does not contradict a loosened component where loosening is ticked beside the main reason", async () => {
    const cases = await read([
      ["inf|loosening", "tibia"],
      ["inf", "femur"],
      ["lysis", "femur"],
      ["loosening"],
    ]);
    const broken = checkCases(cases).groups.find(({ code }) => code === "component-without-loosening");
    expect(broken?.first.map(({ row }) => row)).toEqual([2]);
    expect(loosenedComponents(cases)).toEqual({
      revisions: 3,
      components: [
        { code: "tibia", label: "tibia", revisions: 1 },
        { code: "femur", label: "femur", revisions: 1 },
      ],
      notRecorded: 1,
    });
  });

  it("needs the role and the words of the dictionary", () => {
    const unlisted = FIELDS.map((field) =>
      field === REASON ? { name: "reasons", type: "list", role: "revisionReason" } : field,
    );
    expect(() => loadDescriptor(writeExport("", descriptor(unlisted)))).toThrow(/"list" is for a field/);
  });
});

describe("revisionReasonOf()", () => {
  it.each([
    [{ value: "Infection" }, "infection"],
    [{ value: "3", label: "periprosthetic fracture" }, "fracture"],
    [{ value: "aseptic_loosening" }, "loosening"],
    [{ value: "x", reason: "wear" as const }, "wear"],
    [{ value: "x" }, "other"],
  ])("reads %o as %s", (category, reason) => {
    expect(revisionReasonOf(category)).toBe(reason);
  });

  it("keeps the order in which one reason becomes the main one", () => {
    expect(REVISION_REASONS.join(" > ")).toBe(
      "infection > fracture > loosening > instability > wear > malalignment > pain > other",
    );
  });
});
