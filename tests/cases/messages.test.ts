import { describe, expect, it } from "vitest";
import type { FindingGroup, Findings } from "../../src/base/finding.ts";
import { joinFindings } from "../../src/base/finding-log.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { ExportError } from "../../src/cases/export-error.ts";
import { describeFinding, FINDING_CODES, findingSentence } from "../../src/cases/messages.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { COUNTS_FINDING_CODES, describeCountsFinding } from "../../src/cases/read-counts-messages.ts";
import { reportSmallCombinations, smallCombinations } from "../../src/cases/small-combinations.ts";
import { TABLE_FINDING_CODES } from "../../src/cases/tables/messages.ts";
import { DATED_FIELDS, datedCsv, descriptor, type Json, writeExport } from "./export-file.ts";
import { linkFaults } from "./linked-exports.ts";
import { privacyFaults, ruleFaults } from "./rule-faults.ts";

/** Text that must turn up nowhere. */
const SECRET = "Zq7Xw";

const DURATION_FIELDS = [
  { name: "case", type: "string", role: "caseId" },
  { name: "days", type: "number", role: "followUpTime", unit: "d" },
  { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
  { name: "note", type: "string", constraints: { unique: true } },
  { name: "dose", type: "number", constraints: { required: true, minimum: 10, maximum: 20 } },
];

/** Exports that between them hold every fault there is a sentence for. */
const FAULTY: readonly { readonly content: string | Uint8Array; readonly description: Json }[] = [
  ...[
    "",
    "case,days\n",
    Buffer.from(`\ufeffcase,days\n${SECRET},1\n`, "utf16le"),
    Buffer.from(`case,days\n${SECRET}\u00e5,1\n`, "latin1"),
    `\n${SECRET},days\n`,
    SECRET.repeat(300_000),
    `case,,case\n${SECRET},2,3\n`,
    `case;days\n${SECRET};1\n`,
    `case,days\n\n${SECRET}\n${SECRET}\u0000,1\n${SECRET}"x",1\n"${SECRET}"x,1\n"${SECRET},1\n`,
    `case,${SECRET}\n${SECRET},1\n`,
    `case,days\n${SECRET}`,
  ].map((content) => ({ content, description: descriptor(DURATION_FIELDS) })),
  ...[Buffer.from([0x61, 0x2c, 0x62, 0x0a, 0x81, 0x2c, 0x31]), `\ufeffcase,days\n${SECRET},1\n`].map(
    (content) => ({
      content,
      description: descriptor(DURATION_FIELDS, { encoding: "windows-1252" }),
    }),
  ),
  {
    content: [
      `case,${SECRET},days,status,note,dose`,
      `${SECRET}1,x,-1,0 ,${SECRET},9`,
      `${SECRET}2,x,,0,${SECRET},21`,
      `${SECRET}3,x, 1,,${SECRET.toLowerCase()},`,
      `${SECRET}4,x,${SECRET},${SECRET},,11`,
    ].join("\n"),
    description: descriptor(DURATION_FIELDS),
  },
  {
    content: datedCsv(
      { operated: SECRET, bmi: "27,8".replace(",", SECRET), reason: SECRET, component: SECRET },
      { operated: "43466" },
      { operated: "", patient: "" },
      {
        revised: "2014-01-01",
        died: "2013-01-01",
        seen: "2012-01-01",
        emigrated: "2011-01-01",
        entered: "2015-02-01",
      },
      { reason: "infection", component: SECRET },
      { age: "130", bmi: "1", asa: "9" },
      { age: "110", bmi: "100" },
      { case: `${SECRET}8`, seen: "2021-01-01", revised: "2016-01-01", tourniquet_noted: "2017-01-01" },
      {
        case: `${SECRET}8`,
        seen: "2021-01-01",
        revised: "2016-01-01",
        tourniquet_noted: "2017-01-01",
        bmi: "30",
      },
      { case: `${SECRET}9`, patient: SECRET },
      { case: `${SECRET}9`, patient: SECRET },
      { patient: SECRET },
      { seen: "2014-12-31", revised: "2016-01-01", died: "2014-12-30", entered: "2019-01-01" },
    ),
    description: descriptor(DATED_FIELDS, {}, { dataCut: "2020-06-30" }),
  },
  ...ruleFaults(SECRET),
  ...privacyFaults(SECRET),
];

function pathOf({ resources }: Json): string {
  return (resources as { path: string }[])[0]?.path ?? "";
}

async function findingsOf(content: string | Uint8Array, description: Json): Promise<Findings> {
  try {
    const cases = await readCases(writeExport(content, description, pathOf(description)));
    return joinFindings(cases.findings, checkCases(cases), reportSmallCombinations(smallCombinations(cases)));
  } catch (error) {
    if (error instanceof ExportError) return error.findings;
    throw error;
  }
}

describe("describeFinding()", async () => {
  const all = await Promise.all([
    ...FAULTY.map(({ content, description }) => findingsOf(content, description)),
    linkFaults(SECRET),
  ]);
  const groups = all.flatMap((findings) => findings.groups);

  it("has a sentence for every code that reading and checking give, and no sentence without a code", () => {
    const met = new Set(groups.map(({ code }) => code));
    // Guards against a file that is changed between its scan and its reading.
    const guard = "records-lost";
    expect([...met, guard].sort()).toEqual([...FINDING_CODES].sort());
  });

  it("never holds the text of a cell, and neither does the finding", () => {
    expect(JSON.stringify(groups).toLowerCase()).not.toContain(SECRET.toLowerCase());
    expect(groups.map(describeFinding).join("\n").toLowerCase()).not.toContain(SECRET.toLowerCase());
  });

  it("leaves no detail open", () => {
    for (const group of groups) expect(describeFinding(group)).not.toMatch(/undefined|NaN|\[object/);
  });

  const one = (
    finding: Partial<FindingGroup["first"][number]>,
    code = "revision-before-operation",
  ): FindingGroup => ({
    code,
    severity: "error",
    count: 1,
    first: [{ code, severity: "error", ...finding }],
    ...(finding.field === undefined ? {} : { field: finding.field }),
  });

  it("names row, line and field, then what is wrong, then what to do", () => {
    expect(describeFinding(one({ row: 214, line: 215, field: "revision_date" }))).toBe(
      "row 214 (line 215), revision_date: falls before the operation; correct the export or leave the row out of it",
    );
    expect(describeFinding(one({ line: 3 }, "nul-byte"))).toMatch(/^line 3: holds a NUL byte/);
    expect(describeFinding(one({}, "file-empty"))).toMatch(/^the file holds no header/);
    expect(describeFinding(one({ field: "side" }, "column-missing"))).toMatch(
      /^side: the dictionary describes/,
    );
  });

  it("makes one line of many rows, with their count and the first three", () => {
    const first = [5, 9, 12].map((row) => ({
      code: "revision-before-operation",
      severity: "error" as const,
      row,
      line: row + 1,
      field: "revised",
    }));
    const group: FindingGroup = {
      code: "revision-before-operation",
      severity: "error",
      field: "revised",
      count: 4000,
      first,
    };
    expect(describeFinding(group)).toMatch(
      /^revised, 4000 times \(row 5 \(line 6\), row 9 \(line 10\), row 12 \(line 13\), …\): falls before the operation;/,
    );
    expect(describeFinding({ ...group, count: 3 })).toContain("row 12 (line 13)): falls");
  });

  it("shows the code where another folder's finding has no sentence here", () => {
    expect(describeFinding(one({ row: 1 }, "of-another-folder"))).toBe("row 1: of-another-folder");
  });
});

describe("every sentence", () => {
  /** What a person is told to do, or that there is nothing to do. */
  const ADVICE =
    /correct|check|look|add |take |fill|complete|state |list |export |save |remove|unpack|fetch|open |give |write |rename|describe|close|clear|name |unmerge|quote|double|leave|count again|settle|replace|format|ask |keep |nothing to do/;

  it("says what to do after what is wrong", () => {
    const numbers = new Proxy({}, { get: () => 7 });
    const ofCounts = (code: string) =>
      describeCountsFinding({
        code,
        severity: "error",
        count: 1,
        first: [{ code, severity: "error", details: numbers }],
      });
    const sentences = [
      ...[...FINDING_CODES, ...TABLE_FINDING_CODES].map(
        (code) => [code, findingSentence(code, numbers, "x")] as const,
      ),
      ...COUNTS_FINDING_CODES.map((code) => [code, ofCounts(code)] as const),
    ];
    for (const [code, sentence] of sentences) {
      const [what = "", ...todo] = sentence.split(/[;:,] ?/);
      expect(what, code).not.toBe("");
      expect(todo.join(), code).toMatch(ADVICE);
    }
  });
});
