import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import type { Column } from "../../src/base/column.ts";
import { isPresent, missingReason } from "../../src/base/column.ts";
import { dateOfDay, yearOfDay } from "../../src/base/day-number.ts";
import type { Cases } from "../../src/cases/cases.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { ExportError } from "../../src/cases/export-error.ts";
import { describeFinding } from "../../src/cases/messages.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { descriptor, type Json, writeExport } from "./export-file.ts";

/** Files that have tripped general readers, and what is right for each. All rows are invented. */
function fileBytes(name: string): Buffer {
  return readFileSync(join(import.meta.dirname, "files", name));
}

const YES_NO = [
  { value: "yes", state: "done" },
  { value: "no", state: "notDone" },
];

function demoFields(changes: Record<string, Json> = {}): Json[] {
  const fields: Json[] = [
    { name: "case_id", type: "string", role: "caseId" },
    { name: "patient_id", type: "string", role: "patientId" },
    { name: "side", type: "string", role: "side", categories: [{ value: "left" }, { value: "right" }] },
    { name: "operation_date", type: "date", role: "operationDate" },
    { name: "age_years", type: "number", role: "ageYears" },
    { name: "sex", type: "string", role: "sex", categories: [{ value: "female" }, { value: "male" }] },
    { name: "bmi", type: "number", role: "bmi" },
    {
      name: "asa_grade",
      type: "integer",
      role: "asaGrade",
      categories: [1, 2, 3, 4].map((value) => ({ value })),
    },
    { name: "diagnosis", type: "string", role: "diagnosis" },
    { name: "centre", type: "string", role: "centre" },
    { name: "surgeon", type: "string", role: "surgeon" },
    { name: "tourniquet", type: "string", role: "technique:tourniquet", categories: YES_NO },
    { name: "lavage", type: "string" },
    { name: "sclerotic_bone_drilled", type: "string", role: "technique:drilling", categories: YES_NO },
    { name: "mixing", type: "string" },
    { name: "glove_change", type: "string", role: "technique:gloveChange", categories: YES_NO },
    { name: "cement_on", type: "string" },
    { name: "flexion_at_cure_degrees", type: "number" },
    { name: "revision_date", type: "date", role: "revisionDate" },
    {
      name: "revision_reason",
      type: "string",
      role: "revisionReason",
      categories: [{ value: "loosening" }, { value: "infection" }],
      missingValues: ["", "none", "not revised", "0"],
    },
    { name: "death_date", type: "date", role: "deathDate" },
    { name: "last_follow_up_date", type: "date", role: "lastFollowUpDate" },
  ];
  return fields.map((field) => ({ ...field, ...changes[String(field.name)] }));
}

function read(file: string, changes: Record<string, Json> = {}, resource: Json = {}): Promise<Cases> {
  return readCases(writeExport(fileBytes(file), descriptor(demoFields(changes), resource)));
}

function column(cases: Cases, name: string): Column {
  const found = cases.columns.get(name);
  if (found === undefined) throw new Error(`no column ${name}`);
  return found;
}

/** Dates as ISO text, codes as words, missing as null. */
function values(cases: Cases, name: string): (string | number | null)[] {
  const { kind, values: stored, ...rest } = column(cases, name);
  return Array.from(rest.missing, (missing, row) => {
    const value = stored[row] ?? "";
    if (missing > 0) return null;
    if (kind === "day") return dateOfDay(Number(value));
    return kind === "code" && "codes" in rest ? (rest.codes[Number(value)] ?? null) : value;
  });
}

/** "code: row, row" for each finding group of the given code. */
function rowsOf(
  findings: Cases["findings"],
  code: string,
): [string | undefined, number, (number | undefined)[]][] {
  return findings.groups
    .filter((group) => group.code === code)
    .map(({ field, count, first }) => [field, count, first.map(({ row }) => row)]);
}

function daysBetween(cases: Cases, from: string, to: string): number[] {
  const [start, end] = [column(cases, from).values, column(cases, to).values];
  return Array.from({ length: cases.rows }, (_, row) => Number(end[row]) - Number(start[row]));
}

describe("a reason of revision", () => {
  it("makes no event: the date does, words for none are missing, and two spellings are one reason", async () => {
    const cases = await read("revision-reasons.csv");
    const revised = values(cases, "revision_date").map((date, row) =>
      date === null ? "" : values(cases, "case_id")[row],
    );
    expect(revised.filter((id) => id !== "")).toEqual(["K0001", "K0005", "K0008"]);
    expect(values(cases, "revision_reason")).toEqual([
      "loosening",
      null,
      null,
      null,
      null,
      "infection",
      null,
      "infection",
      null,
      null,
    ]);
    const reasons = column(cases, "revision_reason");
    expect([1, 2, 3, 4].map((row) => missingReason(reasons, row))).toEqual([
      "none",
      "not revised",
      "0",
      "blank",
    ]);
    expect(rowsOf(cases.findings, "word-respelt")).toEqual([["revision_reason", 1, [8]]]);
    expect(cases.findings.errors).toBe(0);
  });

  it("without a date is queried, and a date without a reason counts with reason unknown", async () => {
    const findings = checkCases(await read("revision-reasons.csv"));
    expect(rowsOf(findings, "reason-without-revision-date")).toEqual([["revision_reason", 1, [6]]]);
    expect(rowsOf(findings, "revision-without-reason")).toEqual([["revision_reason", 1, [5]]]);
    expect(findings).toMatchObject({ errors: 1, warnings: 1 });
  });
});

describe("a decimal comma", () => {
  const semicolons = { dialect: { delimiter: ";" } };
  const comma = { decimalChar: "," };

  it("under the wrong delimiter is refused with the delimiter that was found", async () => {
    const error = await read("decimal-comma.csv").catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(ExportError);
    const groups = error instanceof ExportError ? error.findings.groups : [];
    expect(groups.map(describeFinding)).toContain(
      'line 1: the header is a single column, yet holds a semicolon; state the delimiter under "dialect" in the descriptor',
    );
  });

  it("undeclared makes every such cell a finding, never another number", async () => {
    const cases = await read("decimal-comma.csv", {}, semicolons);
    expect(values(cases, "bmi")).toEqual([null, null, 24, null, null, 28.9]);
    expect(values(cases, "age_years")).toEqual([null, 71, null, 80, 62, 77]);
    expect(rowsOf(cases.findings, "value-not-a-number")).toEqual([
      ["age_years", 2, [1, 3]],
      ["bmi", 4, [1, 2, 4]],
    ]);
  });

  it("declared is read, and a point or a mark between thousands beside it is queried", async () => {
    const cases = await read("decimal-comma.csv", { bmi: comma, age_years: comma }, semicolons);
    expect(values(cases, "age_years")).toEqual([66.5, 71, 58.25, 80, 62, 77]);
    expect(values(cases, "bmi")).toEqual([27.8, 31.45, 24, 30, null, null]);
    expect(rowsOf(cases.findings, "value-not-a-number")).toEqual([["bmi", 2, [5, 6]]]);
  });
});

describe("dates whose order is not ISO", () => {
  const dayFirst = { format: "%d/%m/%Y" };
  const allDayFirst = Object.fromEntries(
    ["operation_date", "revision_date", "death_date", "last_follow_up_date"].map((name) => [name, dayFirst]),
  );

  it.each(["dates-undecidable.csv", "dates-decidable.csv"])(
    "are refused in %s until the order is stated",
    async (file) => {
      const cases = await read(file);
      expect(values(cases, "operation_date")).toEqual([null, null, null, null]);
      expect(rowsOf(cases.findings, "value-not-a-date")).toEqual([
        ["operation_date", 4, [1, 2, 3]],
        ["revision_date", 1, [2]],
        ["last_follow_up_date", 4, [1, 2, 3]],
      ]);
    },
  );

  it("are read in the stated order alone", async () => {
    const cases = await read("dates-decidable.csv", allDayFirst);
    expect(values(cases, "operation_date")).toEqual(["2019-04-03", "2019-06-05", "2019-01-31", "2019-12-11"]);
    expect(daysBetween(cases, "operation_date", "last_follow_up_date")).toEqual([90, 30, 334, 25]);
    expect(cases.findings.errors).toBe(0);
  });

  it("that contradict the stated order are named by row", async () => {
    const cases = await read("dates-contradictory.csv", allDayFirst);
    expect(rowsOf(cases.findings, "value-not-a-date")).toEqual([["operation_date", 1, [4]]]);
    expect(values(cases, "operation_date")[3]).toBeNull();
  });

  it("that no calendar has do not roll over", async () => {
    const cases = await read("dates-impossible.csv");
    expect(rowsOf(cases.findings, "value-not-a-date")).toEqual([["operation_date", 2, [1, 2]]]);
    expect(values(cases, "operation_date")).toEqual([null, null, "2019-02-01", "2019-12-11"]);
  });
});

describe("calendar days", () => {
  afterEach(() => vi.unstubAllEnvs());

  it.each([
    "UTC",
    "Europe/Copenhagen",
    "America/Los_Angeles",
    "Pacific/Auckland",
    "Pacific/Apia",
    "America/Sao_Paulo",
  ])("count the same in the time zone %s", async (zone) => {
    vi.stubEnv("TZ", zone);
    const cases = await read("calendar-days.csv");
    expect(daysBetween(cases, "operation_date", "last_follow_up_date")).toEqual([1, 1, 1, 2, 2, 366, 366, 1]);
    const years = [...column(cases, "operation_date").values].map((day) => yearOfDay(Number(day)));
    expect(years).toEqual([2019, 2019, 2018, 2019, 2011, 2020, 2016, 1999]);
  });
});

describe("a spreadsheet's serial numbers", () => {
  it.each(["serial-dates.csv", "serial-dates-1904.csv"])(
    "in %s are refused by row, whichever year they start from",
    async (file) => {
      const cases = await read(file);
      expect(values(cases, "operation_date")).toEqual([null, null, null, null]);
      expect(rowsOf(cases.findings, "date-is-serial-number")[0]).toEqual(["operation_date", 4, [1, 2, 3]]);
      expect(cases.findings.errors).toBe(file === "serial-dates.csv" ? 9 : 10);
    },
  );
});

describe("serial numbers of a stated year", () => {
  it.each([
    ["serial-dates.csv", 1900],
    ["serial-dates-1904.csv", 1904],
  ])("in %s are the days that were meant, and a mixture is reported", async (file, serialDates) => {
    const names = ["operation_date", "revision_date", "death_date", "last_follow_up_date"];
    const cases = await read(file, Object.fromEntries(names.map((name) => [name, { serialDates }])));
    expect(values(cases, "operation_date")).toEqual(["2019-01-01", "2019-03-31", "2012-02-29", "2020-06-15"]);
    expect(daysBetween(cases, "operation_date", "last_follow_up_date")).toEqual([100, 200, 366, 45]);
    expect(values(cases, "revision_date").filter((day) => day !== null)).toEqual(["2019-04-11"]);
    const mixed = rowsOf(cases.findings, "dates-and-serial-numbers").map(([field]) => field);
    expect(mixed).toEqual(file === "serial-dates.csv" ? ["last_follow_up_date"] : []);
    expect(cases.findings.errors).toBe(0);
  });
});

describe("words for yes and no", () => {
  const words = (texts: readonly string[], state: string) => texts.map((value) => ({ value, state }));
  const tourniquet = {
    categories: [...words(["yes", "y", "1", "true"], "done"), ...words(["no", "n", "0", "false"], "notDone")],
    missingValues: ["", "unknown", "9"],
  };

  it("are recognised in any capitals, unknown words are listed, and nothing is dropped", async () => {
    const cases = await read("yes-and-no.csv", { tourniquet });
    const cells = column(cases, "tourniquet");
    const state = Array.from({ length: cases.rows }, (_, row) => {
      if (!isPresent(cells, row))
        return missingReason(cells, row) === "not readable" ? "unmapped" : "missing";
      return tourniquet.categories[Number(cells.values[row])]?.state;
    });
    const expected = [7, 7, 3, 3].flatMap((times, at) =>
      Array(times).fill(["done", "notDone", "missing", "unmapped"][at]),
    );
    expect(state).toEqual(expected);
    expect(rowsOf(cases.findings, "word-not-in-dictionary")).toEqual([["tourniquet", 3, [18, 19, 20]]]);
  });

  it("that the dictionary does not list stop the export, capitals apart", async () => {
    const cases = await read("yes-and-no.csv");
    // Ten of the words are neither yes nor no in any capitals: Y 1 TRUE true N 0 FALSE n unknown 9 ja 2 x.
    expect(rowsOf(cases.findings, "word-not-in-dictionary")[0]?.[1]).toBe(13);
  });
});

describe("repeated cases", () => {
  it("are told apart from both knees of one patient, and none is dropped or multiplied", async () => {
    const cases = await read("repeated-cases.csv");
    expect(cases.rows).toBe(10);
    expect(new Set(values(cases, "case_id")).size).toBe(8);
    const findings = checkCases(cases);
    expect(rowsOf(findings, "case-repeated")).toEqual([["case_id", 1, [9]]]);
    expect(rowsOf(findings, "case-conflicting")).toEqual([["case_id", 1, [10]]]);
    expect(rowsOf(findings, "knee-repeated")).toEqual([["patient_id", 1, [8]]]);
    expect(findings.errors).toBe(3);
  });
});

describe("identifiers", () => {
  it("are text, byte for byte", async () => {
    const cases = await read("long-identifiers.csv");
    expect(values(cases, "case_id")).toEqual([
      "208310224003697457",
      "208310224003697458",
      "00123",
      "123",
      "1e3",
      "1000",
      "2019-01-02",
      "+31",
    ]);
    expect(values(cases, "patient_id")).toEqual([
      "9007199254740993",
      "9007199254740992",
      "00123",
      "123",
      "1E5",
      "100000",
      "0x1F",
      "31",
    ]);
  });

  it("stay text where the dictionary calls them integers", async () => {
    const cases = await read("long-identifiers.csv", { patient_id: { type: "integer" } });
    expect(new Set(values(cases, "patient_id")).size).toBe(8);
  });
});

describe("quotes", () => {
  it("keep delimiters, line breaks and quotes inside a value", async () => {
    const cases = await read("quoted.csv");
    expect(cases.rows).toBe(5);
    expect(values(cases, "diagnosis")[0]).toBe("osteoarthritis,\nsecondary");
    expect(values(cases, "surgeon")[1]).toBe('the "second" list');
    expect(values(cases, "centre")[2]).toBe("North\r\nSite");
    expect([...cases.source.lineOfRow]).toEqual([2, 4, 5, 7, 8]);
  });

  it("never closed stop the reading at the line on which the quote opens", async () => {
    const error = await read("quote-never-closed.csv").catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(ExportError);
    const groups = error instanceof ExportError ? error.findings.groups : [];
    expect(groups).toMatchObject([{ code: "quote-not-closed", first: [{ row: 2, line: 3 }] }]);
  });
});
