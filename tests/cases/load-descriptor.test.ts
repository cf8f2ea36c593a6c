import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { contentHash } from "../../src/base/content-hash.ts";
import { UsageError } from "../../src/base/errors.ts";
import { loadDescriptor } from "../../src/cases/load-descriptor.ts";
import {
  DATED_FIELDS,
  datedCsv,
  descriptor,
  type Json,
  STUDY,
  writeExport,
  writeFile,
} from "./export-file.ts";

const CSV = datedCsv({});

function messageOf(description: Json): string {
  try {
    loadDescriptor(writeExport(CSV, description));
  } catch (error) {
    if (error instanceof UsageError) return error.message;
    throw error;
  }
  return "";
}

/** Message for the dated fields with some of them changed, or with more added. */
function messageWith(changes: Record<string, Json>, more: readonly Json[] = []): string {
  const fields = DATED_FIELDS.map((field) => ({ ...field, ...changes[String(field.name)] }));
  return messageOf(descriptor([...fields, ...more]));
}

describe("loadDescriptor()", () => {
  it("gives the descriptor, its folder and the hash of its bytes", () => {
    const path = writeExport(CSV, descriptor(DATED_FIELDS));
    const loaded = loadDescriptor(path);
    expect(loaded.descriptor.resources[0]?.schema.fields).toHaveLength(DATED_FIELDS.length);
    expect(join(loaded.folder, "datapackage.json")).toBe(path);
    expect(loaded.hash).toBe(contentHash(JSON.stringify(descriptor(DATED_FIELDS))));
  });

  it("reads a descriptor that begins with a byte order mark", () => {
    const path = writeExport(CSV, descriptor(DATED_FIELDS));
    writeFileSync(path, `\ufeff${JSON.stringify(descriptor(DATED_FIELDS))}`);
    expect(loadDescriptor(path).descriptor.name).toBe("test-export");
  });

  it("refuses a file that is not there, and one that is no JSON, each with its own code", () => {
    const codeOf = (path: string) => {
      try {
        loadDescriptor(path);
      } catch (error) {
        return error instanceof UsageError ? error.code : undefined;
      }
      return undefined;
    };
    expect(codeOf("/no/such/datapackage.json")).toBe("descriptor-not-found");
    expect(codeOf(writeFile("{", ".json"))).toBe("descriptor-not-json");
    expect(codeOf(writeFile("{}", ".json"))).toBe("descriptor-invalid");
    expect(codeOf(writeFile("case_id\n1\n", ".csv"))).toBe("no-descriptor");
  });

  it("lists every problem at once, each by its field", () => {
    const message = messageWith({ side: { role: "flank" }, died: { type: "string" } });
    expect(message).toContain('field "side", role: unknown role "flank"; accepted: caseId');
    expect(message).toContain('field "died", type: must be "date" for the role "deathDate"');
  });

  it("says of a key that is not there that it is missing", () => {
    const { stamp: _, invented: __, ...study } = STUDY;
    const description = { ...descriptor(DATED_FIELDS), study };
    expect(messageOf(description)).toContain("study.invented: missing; expected boolean");
    expect(messageOf(descriptor([{ type: "string" }]))).toContain(
      "resources[0].schema.fields[0].name: missing",
    );
  });

  it("is strict about the study block and free elsewhere", () => {
    expect(messageOf(descriptor(DATED_FIELDS, {}, { dataCutt: "2020-01-01" }))).toContain(
      'study: unknown key "dataCutt"',
    );
    expect(messageOf({ ...descriptor(DATED_FIELDS), keywords: ["knee"] })).toBe("");
    expect(messageWith({ side: { rdfType: "x" } })).toBe("");
  });
});

describe("the rules of a descriptor", () => {
  it.each([
    [
      "two fields with one role",
      { entered: { role: "operationDate" } },
      'two fields have the role "operationDate"',
    ],
    ["two fields of one name", { patient: { name: "case" } }, '"case" is used by an earlier field'],
    ["no case id", { case: { role: undefined } }, 'no field has the role "caseId"'],
    [
      "a step without categories",
      { tourniquet: { categories: undefined } },
      "categories: missing; a technique field",
    ],
    ["a word without a state", { tourniquet: { categories: [{ value: "yes" }] } }, '"yes" has no state'],
    [
      "a state on another field",
      { side: { categories: [{ value: "left", state: "done" }] } },
      '"left" has a state',
    ],
    [
      "an outcome on another field",
      { side: { categories: [{ value: "l", outcome: "died" }] } },
      '"l" has an outcome',
    ],
    [
      "an unknown state",
      { tourniquet: { categories: [{ value: "yes", state: "maybe" }] } },
      "accepted: done, notDone",
    ],
    [
      "a word that stands twice",
      { side: { categories: [{ value: "l" }, { value: "l" }] } },
      '"l" stands twice',
    ],
    [
      "a word that is also missing",
      { side: { missingValues: ["left"] } },
      '"left" is also declared as a missing value',
    ],
    [
      "a missing value that stands twice",
      { side: { missingValues: ["9", "9"] } },
      'missingValues: "9" stands twice',
    ],
    [
      "an identifier with categories",
      { case: { categories: [{ value: "K1" }] } },
      "an identifier has no categories",
    ],
    ["an age that is text", { age: { type: "string" } }, 'must be "number" or "integer"'],
    ["an unknown type", { age: { type: "decimal" } }, "accepted: string, integer, number, date, boolean"],
    ["a date format to guess", { died: { format: "any" } }, "nothing is guessed"],
    ["a date format of two parts", { died: { format: "%m/%Y" } }, "nothing is guessed"],
    ["a date format with a time", { died: { format: "%d/%m/%Y %H:%M" } }, "nothing is guessed"],
    ["marks between thousands", { bmi: { groupChar: "." } }, "groupChar: not supported"],
    ["own words for true", { side: { trueValues: ["ja"] } }, "trueValues: not supported"],
    [
      "a minimum on words",
      { side: { constraints: { minimum: 1 } } },
      "minimum and maximum are for numbers and dates",
    ],
    [
      "a limit of the wrong kind",
      { died: { constraints: { minimum: 2015 } } },
      "limits of a date are written as",
    ],
    ["a limit that is no number", { bmi: { constraints: { maximum: "60" } } }, "limits must be numbers"],
    ["an unknown constraint", { bmi: { constraints: { pattern: "x" } } }, 'unknown key "pattern"'],
    [
      "no revision date",
      { revised: { role: undefined } },
      '"operationDate" needs a field with the role "revisionDate"',
    ],
    ["no end of follow-up", { seen: { role: undefined } }, "follow-up must end somewhere"],
    ["no time at all", { operated: { role: undefined } }, 'needs a field with the role "operationDate"'],
    [
      "a note on a step that is not there",
      { tourniquet: { role: "viscosity", categories: undefined } },
      "needs a field",
    ],
  ] as const)("refuse %s", (_, changes, expected) => {
    expect(messageWith(changes as unknown as Record<string, Json>)).toContain(expected);
  });

  it.each([
    ["a path outside the folder", { path: "../cases.csv" }, "must lie in the descriptor's own folder"],
    ["a path from the root", { path: "/cases.csv" }, "must lie in the descriptor's own folder"],
    ["a web address", { path: "https://example.org/cases.csv" }, "must lie in the descriptor's own folder"],
    ["one file twice", { path: ["a.csv", "b.csv", "a.csv"] }, "names a file twice"],
    ["one of several paths outside the folder", { path: ["a.csv", "../b.csv"] }, "descriptor's own folder"],
    ["another encoding", { encoding: "ibm850" }, "accepted: utf-8, utf-16, utf-16le, utf-16be, windows-1252"],
    ["two ways to name a sheet", { dialect: { sheetName: "a", sheetNumber: 2 } }, "keep one"],
    ["a table without header", { dialect: { header: false } }, "dialect.header: not supported"],
    ["comment lines", { dialect: { commentChar: "#" } }, "dialect.commentChar: not supported"],
    ["a delimiter that is a letter", { dialect: { delimiter: "x" } }, "must be one ASCII mark"],
    ["one mark for both", { dialect: { delimiter: "'", quoteChar: "'" } }, "must differ"],
  ])("refuse %s", (_, resource, expected) => {
    expect(messageOf(descriptor(DATED_FIELDS, resource))).toContain(expected);
  });

  it("refuse invented data without a stamp, and a data cut that is no date", () => {
    expect(messageOf(descriptor(DATED_FIELDS, {}, { stamp: undefined }))).toContain("study.stamp: missing");
    expect(messageOf(descriptor(DATED_FIELDS, {}, { dataCut: "2020-02-30" }))).toContain(
      "study.dataCut: not a calendar",
    );
  });

  it("accept durations with a status whose words name what ended follow-up", () => {
    const fields = (unit: string | undefined, categories: unknown) => [
      { name: "case", type: "string", role: "caseId" },
      { name: "time", type: "number", role: "followUpTime", unit },
      { name: "status", type: "integer", role: "status", categories },
    ];
    const words = [
      { value: 0, outcome: "censored" },
      { value: 1, outcome: "revised" },
    ];
    expect(messageOf(descriptor(fields("mo", words)))).toBe("");
    expect(messageOf(descriptor(fields("wk", words)))).toContain("unit: must be one of d, mo, a");
    expect(messageOf(descriptor(fields("mo", [{ value: 1 }])))).toContain('"1" has no outcome');
    expect(messageOf(descriptor(fields("mo", undefined)))).toContain("categories: missing; a status field");
    expect(messageOf(descriptor(fields("mo", words).slice(0, 2)))).toContain('"followUpTime" and "status"');
  });
});
