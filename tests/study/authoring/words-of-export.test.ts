import { describe, expect, it } from "vitest";
import { loadDescriptor } from "../../../src/cases/load-descriptor.ts";
import { fieldsFile } from "../../../src/study/authoring/fields-file.ts";
import { notebookFile } from "../../../src/study/authoring/notebook-file.ts";
import { wordsOfExport } from "../../../src/study/authoring/words-of-export.ts";
import { descriptor, writeExport } from "../../cases/export-file.ts";
import { CASES, TICKS } from "../../cases/ticked-fields.ts";

const RADIOGRAPHS = [
  { name: "film", type: "date", role: "radiographDate" },
  { name: "lines", type: "string", role: "radiographFinding", categories: [{ value: "none" }] },
  { name: "lines_since", type: "date", role: "radiographFindingDate" },
];
const AGE = { name: "age", type: "number", role: "ageYears" };
const path = writeExport("", descriptor([...CASES, ...TICKS, ...RADIOGRAPHS, AGE]));
const { descriptor: ticked } = loadDescriptor(path);

describe("the words of an export whose reasons are ticked", () => {
  it("have every ticked reason for a revision", () => {
    expect(wordsOfExport(ticked).reasons).toEqual([
      { word: "pain", label: "pain" },
      { word: "loosening", label: "loose component" },
      { word: "infection", label: "infection" },
    ]);
    expect(fieldsFile(ticked, "there")).toContain('readonly reasons: "pain" | "loosening" | "infection";');
    const notebook = notebookFile({ id: "q", question: "Q?", descriptor: ticked, place: "there" });
    expect(notebook).toContain('event: { label: "?", revisionFor: ["?"] }');
    expect(notebook).toContain("loosening – loose component");
  });

  it("offer nothing that is settled after the operation to choose or to adjust by", () => {
    expect(wordsOfExport(ticked).fields.map(({ names }) => names[0])).toEqual([
      "role:operationDate",
      "role:ageYears",
    ]);
  });
});
