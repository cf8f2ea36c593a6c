import { describe, expect, it } from "vitest";
import { loadDescriptor } from "../../src/cases/load-descriptor.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { reasonWords } from "../../src/cases/reason-words.ts";
import { descriptor, type Json, writeExport } from "./export-file.ts";
import { link, linkedDescriptor, REVISION_FIELDS } from "./linked-exports.ts";
import { CASES, TICKS } from "./ticked-fields.ts";

const stated = (...categories: readonly Json[]): Json => ({
  name: "reason",
  type: "string",
  role: "revisionReason",
  categories,
});
const load = (description: Json) => loadDescriptor(writeExport("", description)).descriptor;
const wordsOf = (fields: readonly Json[]) => reasonWords(load(descriptor(fields))).map(({ value }) => value);

describe("reasonWords()", () => {
  it("names the reasons that are ticked, each once, with the titles of their columns", () => {
    expect(reasonWords(load(descriptor([...CASES, ...TICKS])))).toEqual([
      { value: "pain", label: undefined, reason: "pain" },
      { value: "loosening", label: "loose component", reason: "loosening" },
      { value: "infection", label: undefined, reason: "infection" },
    ]);
    expect(wordsOf(CASES)).toEqual([]);
  });

  it("puts them behind the stated ones, unless one of those means them", () => {
    expect(wordsOf([...CASES, ...TICKS, stated({ value: "deep infection" }, { value: "pain" })])).toEqual([
      ...["deep infection", "pain", "loosening"],
    ]);
    const meant = stated({ value: "pain", reason: "other" });
    expect(wordsOf([...CASES, ...TICKS, meant])).toEqual([
      ...["pain", "pain (ticked)", "loosening", "infection"],
    ]);
  });

  it("takes those of a second table where the cases have none", () => {
    const ticked = [...REVISION_FIELDS.filter(({ role }) => role !== "revisionReason"), ...TICKS];
    const revisions = link("revisions", "revisions.csv", "knee", "case", ticked);
    expect(reasonWords(load(linkedDescriptor([revisions]))).map(({ value }) => value)).toEqual([
      ...["pain", "loosening", "infection"],
    ]);
  });

  it("names what the export holds once it is read", async () => {
    const fields = [...CASES, ...TICKS, stated({ value: "malposition" })];
    const header = fields.map(({ name }) => name).join();
    const path = writeExport(`${header}\nK1,2015-01-05,2017-01-05,2019-01-05,1,,,,\n`, descriptor(fields));
    const { columns } = await readCases(path);
    const reasons = columns.get("reason");
    expect(reasons?.kind === "code" && reasons.codes).toEqual(wordsOf(fields));
  });
});
