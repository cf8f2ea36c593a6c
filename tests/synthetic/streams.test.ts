import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import {
  PLANTED_TRUTH,
  type SyntheticOptions,
  syntheticExport,
  syntheticTruth,
} from "../../src/synthetic/index.ts";
import { cellsByField, csvText } from "./helpers.ts";

const SMALL = { seed: 3, knees: 3000, surgeons: 12 };
const rows = (options: SyntheticOptions) => cellsByField(csvText(syntheticExport(options)));

/** Fields whose cells differ between two exports. */
function changedFields(one: Map<string, string[]>, other: Map<string, string[]>): string[] {
  return [...one.keys()].filter((name) => one.get(name)?.join() !== other.get(name)?.join());
}

describe("syntheticExport()", () => {
  it("gives the same bytes for the same options, however often it is asked", () => {
    const invented = syntheticExport(SMALL);
    const first = csvText(invented);
    expect(csvText(invented) === first).toBe(true);
    expect(csvText(syntheticExport(SMALL)) === first).toBe(true);
  });

  it("writes a header, the knees and the end of the last line, as its example says", () => {
    const { csvChunks } = syntheticExport({ knees: 500, seed: 1 });
    expect([...csvChunks()].join("").split("\n").length).toBe(502);
  });

  it("has the truth that is drawn alone", () => {
    expect(syntheticTruth(SMALL)).toEqual(syntheticExport(SMALL).truth);
  });

  it("states in its note the values in force, unrounded", () => {
    const effect = {
      step: "pressurisation",
      state: "done",
      cause: "loosening",
      hazardRatios: [0.35, 1, 1.25],
    } as const;
    const { note } = syntheticExport({
      ...SMALL,
      planted: { effects: [effect], surgeonFrailtySd: 0.123, infectionsLabelledLoosening: 0.125 },
    });
    expect(note).toContain("pressurised against not pressurised | aseptic loosening | 0.35 | 1.0 | 1.25 |");
    expect(note).toContain("standard deviation 0.123");
    expect(note).toContain("12.5 % of revisions for infection");
    expect(note).not.toContain("Tourniquet used | thigh");
  });

  it("gives another export for another seed", () => {
    expect(changedFields(rows(SMALL), rows({ ...SMALL, seed: 4 })).length).toBeGreaterThan(25);
  });

  it("draws again only what a changed effect touches", () => {
    const effects = PLANTED_TRUTH.effects.map((effect) =>
      effect.step === "tourniquet" ? { ...effect, hazardRatios: [30, 30, 30] as const } : effect,
    );
    const before = syntheticExport(SMALL).truth;
    const after = syntheticExport({ ...SMALL, planted: { effects } }).truth;
    expect(after.operations).toEqual(before.operations);
    expect(after.technique).toEqual(before.technique);
    expect(after.revisions.netDays.infection).toEqual(before.revisions.netDays.infection);
    expect(after.revisions.netDays.other).toEqual(before.revisions.netDays.other);
    expect(after.revisions.netDays.loosening).not.toEqual(before.revisions.netDays.loosening);
  });

  it("changes nothing but labels when infections are labelled otherwise", () => {
    const [none, all] = [0, 1].map((infectionsLabelledLoosening) =>
      rows({ ...SMALL, planted: { infectionsLabelledLoosening } }),
    );
    expect(changedFields(none ?? new Map(), all ?? new Map())).toEqual([
      "revision_reason",
      "loosened_component",
    ]);
    expect(all?.get("revision_reason")?.includes("infection")).toBe(false);
  });

  it("begins a larger export with the rows of a smaller one", () => {
    const small = csvText(syntheticExport(SMALL));
    const large = csvText(syntheticExport({ ...SMALL, knees: 6000 }));
    expect(large.startsWith(small)).toBe(true);
  });

  it("leaves ages, sides and surgeons of patients alone when every patient has both knees", () => {
    const usual = syntheticExport(SMALL).truth.operations;
    const paired = syntheticExport({ ...SMALL, allBilateral: true }).truth.operations;
    const firstKnees = (operations: typeof usual) =>
      Array.from({ length: 500 }, (_, patient) => {
        const row = operations.patient.indexOf(patient);
        return [
          operations.ageYears[row],
          operations.right[row],
          operations.surgeon[row],
          operations.operationDay[row],
        ];
      });
    expect(firstKnees(paired)).toEqual(firstKnees(usual));
    expect(paired.patients).toBe(1500);
  });

  it("writes exactly the knees asked for, from one up", () => {
    for (const knees of [1, 2, 17, 4096, 4097]) {
      expect(rows({ knees, surgeons: 1, centres: 1 }).get("case_id")?.length).toBe(knees);
    }
  });

  it("keeps codes of one length in an export of any size", () => {
    const columns = rows({ knees: 200, surgeons: 150, centres: 12 });
    for (const field of ["case_id", "patient_id", "surgeon", "centre"]) {
      expect(new Set(columns.get(field)?.map((code) => code.length)).size, field).toBe(1);
    }
  });

  it.each([
    ["no knees", { knees: 0 }],
    ["half a knee", { knees: 10.5 }],
    ["more centres than surgeons", { surgeons: 3, centres: 4 }],
    ["a negative seed", { seed: -1 }],
    ["a spread below zero", { planted: { patientFrailtySd: -0.1 } }],
    ["a spread that is no number", { planted: { surgeonFrailtySd: Number.NaN } }],
    ["a share above one", { planted: { infectionsLabelledLoosening: 1.2 } }],
    [
      "periods that do not rise",
      { planted: { netHazards: { ...PLANTED_TRUTH.netHazards, periodEnds: [1, 1, 5, 10] } } },
    ],
    ["too few hazards", { planted: { netHazards: { ...PLANTED_TRUTH.netHazards, periodEnds: [1, 3] } } }],
  ] satisfies (readonly [string, SyntheticOptions])[])("refuses %s", (_, options) => {
    expect(() => syntheticExport(options)).toThrow(ArgumentError);
  });
});
