import { describe, expect, it } from "vitest";
import { UsageError } from "../../src/base/errors.ts";
import type { Cases } from "../../src/cases/cases.ts";
import { type Exposure, NOT_COMPARED } from "../../src/technique/exposure.ts";
import { exposureGroups } from "../../src/technique/exposure-groups.ts";
import { stepRecording } from "../../src/technique/step-recording.ts";
import { type InventedField, inventedCases } from "./invented-cases.ts";

const FIELDS: readonly InventedField[] = [
  { name: "patient", type: "string", role: "patientId" },
  {
    name: "cuff",
    type: "string",
    role: "technique:tourniquet",
    title: "Tourniquet",
    categories: [
      { value: "w", label: "whole operation", state: "done" },
      { value: "c", label: "cementing only", state: "done" },
      { value: "n", label: "none", state: "notDone" },
      { value: "x", label: "does not apply", state: "notApplicable" },
      { value: "?", label: "nobody knows", state: "notRecorded" },
    ],
    missing: { "": "blank", NA: "page lost" },
  },
  { name: "written", type: "date", role: "technique:tourniquet:recordedOn" },
  { name: "revised", type: "date", role: "revisionDate" },
  {
    name: "stem",
    type: "string",
    categories: [
      { value: "short", label: "short stem" },
      { value: "long", label: "long stem" },
      { value: "none" },
    ],
    missing: { "": "blank" },
  },
  { name: "age", type: "integer", role: "ageYears" },
  { name: "theatre", type: "string" },
];

const ROWS = [
  ["A", "w", "2020-01-01", "2021-05-05", "short", "70", "green"],
  ["A", "n", "2020-01-01", "", "long", "70", "green"],
  ["B", "c", "2021-05-06", "2021-05-05", "none", "61", "secret-name"],
  ["C", "n", "2021-05-05", "2021-05-05", "short", "62", "green"],
  ["D", "", "2021-05-06", "2021-05-05", "", "63", "blue"],
  ["E", "x", "", "", "long", "64", "blue"],
  ["F", "?", "", "", "short", "65", "blue"],
  ["G", "NA", "", "", "", "66", "blue"],
];
const cases = inventedCases(FIELDS, ROWS);

function refusal(exposure: unknown, from: Cases = cases): UsageError {
  try {
    exposureGroups(from, exposure as Exposure);
  } catch (error) {
    if (error instanceof UsageError) return error;
    throw error;
  }
  throw new Error("was not refused");
}

describe("exposureGroups() for a technique step", () => {
  const groups = exposureGroups(cases, { step: "tourniquet" });

  it("puts done first, not done second, and the others in neither", () => {
    expect([...groups.group]).toEqual([0, 1, NOT_COMPARED, 1, ...Array(4).fill(NOT_COMPARED)]);
  });

  it("takes the labels from the dictionary, or from the plan", () => {
    expect(groups.title).toBe("Tourniquet");
    expect(groups.labels).toEqual(["Tourniquet: whole operation or cementing only", "Tourniquet: none"]);
    const labels = { done: "cuff", notDone: "no cuff" };
    expect(exposureGroups(cases, { step: "tourniquet", labels }).labels).toEqual(["cuff", "no cuff"]);
  });

  it("reads blanks, and records dated after the revision, as not recorded; never as not done", () => {
    const rows = groups.notCompared.map(({ label, rows }) => [label, [...rows]]);
    expect(rows).toEqual([
      ["not applicable", [5]],
      ["not recorded", [2, 4, 6, 7]],
    ]);
    // Row 4 is blank whenever it was written, and row 3 was written on the day of the revision itself.
    expect(groups.recordedAfterRevision).toBe(1);
  });

  it("puts every row in one place (identity)", () => {
    const compared = groups.group.filter((group) => group !== NOT_COMPARED).length;
    const others = groups.notCompared.reduce((sum, { rows }) => sum + rows.length, 0);
    expect(compared + others).toBe(cases.rows);
  });

  it("refuses a step the export does not record, or that is none, naming those it does", () => {
    expect(refusal({ step: "drilling" }).code).toBe("step-not-in-export");
    expect(refusal({ step: "drilling" }).message).toContain('"tourniquet"');
    expect(refusal({ step: "singing" }).code).toBe("unknown-step");
    const fields = FIELDS.map((field) =>
      field.name === "cuff" ? { ...field, categories: [{ value: "w" }, { value: "n" }] } : field,
    );
    expect(refusal({ step: "tourniquet" }, inventedCases(fields, ROWS.slice(0, 2))).code).toBe(
      "step-without-states",
    );
  });

  it("refuses two groups of one name", () => {
    expect(refusal({ step: "tourniquet", labels: { done: "cuff", notDone: "cuff" } }).code).toBe(
      "group-labels-equal",
    );
  });
});

describe("exposureGroups() for a coded field", () => {
  it("compares the codes of the plan in its order and names the rest", () => {
    const groups = exposureGroups(cases, { field: "stem", groups: ["long", "short"] });
    expect(groups.labels).toEqual(["long stem", "short stem"]);
    expect([...groups.group]).toEqual([1, 0, 255, 1, 255, 0, 1, 255]);
    expect(groups.notCompared.map(({ label, rows }) => [label, [...rows]])).toEqual([
      ["none", [2]],
      ["blank", [4, 7]],
    ]);
    expect(groups.recordedAfterRevision).toBe(0);
  });

  it("holds a technique field compared by its own codes to the same rules", () => {
    const groups = exposureGroups(cases, { field: "cuff", groups: ["w", "c"] });
    expect([...groups.group]).toEqual([0, ...Array(7).fill(NOT_COMPARED)]);
    expect(groups.recordedAfterRevision).toBe(1);
    expect(groups.notCompared.find(({ label }) => label === "not recorded")?.rows).toHaveLength(4);
    expect(refusal({ field: "cuff", groups: ["w", "?"] }).code).toBe("group-not-recorded");
  });

  it("refuses an unknown field, an unknown code, a field without codes and a lone group", () => {
    expect(refusal({ field: "stm", groups: ["long", "short"] }).code).toBe("unknown-field");
    expect(refusal({ field: "stm", groups: ["long", "short"] }).message).toContain('"stem"');
    expect(refusal({ field: "stem", groups: ["long", "tall"] }).code).toBe("unknown-group");
    expect(refusal({ field: "stem", groups: ["long", "tall"] }).message).toContain('"short"');
    expect(refusal({ field: "age", groups: ["70", "61"] }).code).toBe("exposure-not-coded");
    expect(refusal({ field: "stem", groups: ["long"] }).code).toBe("exposure-groups");
    expect(refusal({ field: "stem", groups: ["long", "long"] }).code).toBe("exposure-groups");
    expect(refusal({ field: "role:ageYears", groups: ["70", "61"] }).code).toBe("exposure-not-coded");
    expect(refusal({ field: "role:sex", groups: ["a", "b"] }).code).toBe("role-not-in-export");
    expect(refusal({ field: "role:colour", groups: ["a", "b"] }).code).toBe("unknown-role");
  });

  it("never shows words that stand only in the file", () => {
    expect(refusal({ field: "theatre", groups: ["green", "red"] }).message).not.toContain("secret-name");
    const groups = exposureGroups(cases, { field: "theatre", groups: ["green", "blue"] });
    expect(groups.notCompared.map(({ label }) => label)).toEqual(["another code"]);
  });

  it("gives the empty group a place of its own", () => {
    const groups = exposureGroups(inventedCases(FIELDS, ROWS.slice(0, 1)), { step: "tourniquet" });
    expect(groups.labels).toHaveLength(2);
    expect([...groups.group]).toEqual([0]);
    expect(exposureGroups(inventedCases(FIELDS, []), { step: "tourniquet" }).group).toHaveLength(0);
  });
});

describe("stepRecording()", () => {
  it("counts the four states in units and persons among the rows given", () => {
    const recording = stepRecording(cases, [0, 1, 2, 3, 4, 5, 6, 7], "tourniquet");
    expect(recording.states.map(({ state, units, persons }) => [state, units, persons])).toEqual([
      ["done", 1, 1],
      ["notDone", 2, 2],
      ["notApplicable", 1, 1],
      ["notRecorded", 4, 4],
    ]);
    expect(recording.recordedAfterRevision).toBe(1);
    expect(recording.writtenLate.map(({ units, persons }) => [units, persons])).toEqual([[1, 1]]);
    expect(recording.title).toBe("Tourniquet");
  });

  it("keeps to the rows given, and shows states never met as zero", () => {
    const recording = stepRecording(cases, [1, 3], "tourniquet");
    expect(recording.states.map(({ units }) => units)).toEqual([0, 2, 0, 0]);
    expect(recording.recordedAfterRevision).toBe(0);
    expect(recording.writtenLate).toEqual([]);
    expect(stepRecording(cases, [], "tourniquet").states.map(({ units }) => units)).toEqual([0, 0, 0, 0]);
  });
});
