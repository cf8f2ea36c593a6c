import { describe, expect, it } from "vitest";
import { checkCases } from "../../src/cases/check-cases.ts";
import { loadDescriptor } from "../../src/cases/load-descriptor.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { loosenedComponents } from "../../src/cohort/loosened-components.ts";
import { descriptor, type Json, writeExport } from "./export-file.ts";
import { CASES, TICKS } from "./ticked-fields.ts";

/** Rows of cells under the ticks, and what else the table holds. */
async function read(rows: readonly string[], extra: readonly Json[] = [], ticks = TICKS) {
  const fields = [...CASES, ...ticks, ...extra];
  const lines = rows.map((cells, at) => {
    const isRevised = cells.replaceAll(",", "") !== "";
    return `K${at},2015-01-${at + 10},${isRevised ? `2017-02-${at + 10}` : ""},2019-01-0${(at % 9) + 1},${cells}`;
  });
  const header = fields.map(({ name }) => name).join();
  return readCases(writeExport(`${header}\n${lines.join("\n")}\n`, descriptor(fields)));
}

type Read = Awaited<ReturnType<typeof read>>;

/** The main reason of each row, or why there is none. */
function mains(cases: Read): (string | undefined)[] {
  const column = cases.columns.get(cases.fieldOfRole.get("revisionReason") ?? "");
  if (column?.kind !== "code") return [];
  return Array.from(column.values, (code, row) =>
    column.missing[row] === 0 ? column.codes[code] : column.missingReasons[(column.missing[row] ?? 0) - 1],
  );
}

function everyReason({ tickedReasons: ticked, rows }: Read) {
  return Array.from({ length: rows }, (_, row) => ticked?.sets[ticked.setOfRow[row] ?? 0]);
}

describe("reasons for revision in columns of ticks", () => {
  it("give the main one by the stated order, keep all, and count what is not the first ticked", async () => {
    const cases = await read(["1,0,,nein", "true,1,,ja", ",,,", "0,1,x,nein", ",,x,", "1,,x,"]);
    expect(mains(cases)).toEqual([
      "pain",
      "infection",
      "no reason ticked",
      "loosening",
      "loosening",
      "loosening",
    ]);
    expect(everyReason(cases)[1]).toEqual(["pain", "loosening", "infection"]);
    expect(everyReason(cases)[3]).toEqual(["loosening"]);
    expect(cases.tickedReasons).toMatchObject({ several: 2, changed: 2 });
    const counts = Object.fromEntries(cases.findings.groups.map(({ code, count }) => [code, count]));
    expect(counts).toEqual({ "several-reasons-ticked": 2, "main-reason-by-order": 2 });
  });

  it("are a field of the dictionary from then on, with the titles of its columns", async () => {
    const cases = await read(["1,,,"]);
    const made = cases.descriptor.resources[0]?.schema.fields.at(-1);
    expect(made).toMatchObject({
      name: "revision_reason",
      role: "revisionReason",
      categories: [
        { value: "pain", reason: "pain" },
        { value: "loosening", label: "loose component", reason: "loosening" },
        { value: "infection", reason: "infection" },
      ],
    });
    expect(loosenedComponents(await read(["1,,x,", "1,,,"]))?.revisions).toBe(1);
    expect(checkCases(cases).errors).toBe(0);
  });

  it("stand beside a stated main reason, which the order may change", async () => {
    const stated = {
      name: "why",
      type: "string",
      role: "revisionReason",
      categories: [
        { value: "P", label: "pain", reason: "pain" },
        { value: "W", reason: "wear" },
      ],
    };
    const cases = await read(["1,,,nein,P", "0,,,ja,P", ",,,,W", ",1,,,", ",,,,"], [stated]);
    expect(mains(cases)).toEqual(["P", "infection", "W", "loosening", "blank"]);
    expect(everyReason(cases).slice(0, 2)).toEqual([["P"], ["P", "infection"]]);
    expect(cases.tickedReasons).toMatchObject({ field: "why", several: 1, changed: 1 });
  });

  it("make a row unreadable by a word that is in no list: it might be the main reason", async () => {
    const cases = await read(["1,,,vielleicht", "1,,,"]);
    expect(mains(cases)).toEqual(["not readable", "pain"]);
    expect(cases.findings.groups.map(({ code, field }) => [code, field])).toEqual([
      ["word-not-in-dictionary", "infected"],
    ]);
  });

  it.each([
    ["an unknown reason", { name: "a", type: "boolean", role: "revisionReason:bad luck" }, /unknown role/],
    [
      "a field without words",
      { name: "a", type: "string", role: "revisionReason:pain" },
      /must be "boolean"/,
    ],
    [
      "words that all say no",
      { name: "a", type: "string", role: "revisionReason:pain", categories: [{ value: "no" }] },
      /none of the words/,
    ],
    [
      "a list beside them",
      { name: "a", type: "list", role: "revisionReason", categories: [{ value: "pain" }] },
      /keep the list or the columns/,
    ],
  ])("are refused with %s", (_, field, message) => {
    expect(() => loadDescriptor(writeExport("", descriptor([...CASES, TICKS[0] ?? {}, field])))).toThrow(
      message,
    );
  });
});
