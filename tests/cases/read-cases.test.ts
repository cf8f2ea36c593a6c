import { copyFileSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import type { Column } from "../../src/base/column.ts";
import { missingReason } from "../../src/base/column.ts";
import { contentHash } from "../../src/base/content-hash.ts";
import { dateOfDay } from "../../src/base/day-number.ts";
import type { Cases } from "../../src/cases/cases.ts";
import { ExportError } from "../../src/cases/export-error.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { DATED_FIELDS, datedCsv, descriptor, type Json, writeExport, writeFiles } from "./export-file.ts";

/** Reads one column, `x`, beside the least that an export must have. */
async function readColumn(field: Json, cells: readonly string[], resource: Json = {}): Promise<Cases> {
  const fields = [
    { name: "case", type: "string", role: "caseId" },
    { name: "time", type: "number", role: "followUpTime", unit: "d" },
    { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
    { name: "x", ...field },
  ];
  const lines = cells.map((cell, row) => `K${row + 1},1,0,${cell}`);
  return readCases(writeExport(`case,time,status,x\n${lines.join("\n")}\n`, descriptor(fields, resource)));
}

function columnOf(cases: Cases, name = "x"): Column {
  const column = cases.columns.get(name);
  if (column === undefined) throw new Error(`no column ${name}`);
  return column;
}

/** Each cell as its value in words, or its missing reason in brackets. */
function shown(column: Column): string[] {
  return Array.from(column.missing, (_, row) => {
    const reason = missingReason(column, row);
    if (reason !== undefined) return `[${reason}]`;
    const value = column.values[row] ?? "";
    if (column.kind === "day") return dateOfDay(Number(value));
    return column.kind === "code" ? (column.codes[Number(value)] ?? "") : String(value);
  });
}

/** Code, row and line of the findings kept. */
function found(cases: Cases) {
  return cases.findings.groups.flatMap(({ first }) => first.map(({ code, row, line }) => [code, row, line]));
}

async function refusal(path: string): Promise<ExportError> {
  try {
    await readCases(path);
  } catch (error) {
    if (error instanceof ExportError) return error;
    throw error;
  }
  throw new Error("the export was read");
}

const LATIN = "case,time,status,x\nK1,1,0,\u00e5\n";
const LATIN_FIELDS = [
  { name: "case", type: "string", role: "caseId" },
  { name: "time", type: "number", role: "followUpTime", unit: "d" },
  { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
  { name: "x", type: "string" },
];

describe("readCases()", () => {
  it("gives typed columns in the order of the file, roles, hashes and lines", async () => {
    const csv = datedCsv({}, { revised: "2016-02-29", reason: "loosening" });
    const cases = await readCases(writeExport(csv, descriptor(DATED_FIELDS)));
    expect(cases.rows).toBe(2);
    expect([...cases.columns.keys()]).toEqual(DATED_FIELDS.map(({ name }) => name));
    expect([...cases.columns.values()].map(({ kind }) => kind)).toEqual(
      "text text code day day day code code day day day number number number code day".split(" "),
    );
    expect(shown(columnOf(cases, "revised"))).toEqual(["[blank]", "2016-02-29"]);
    expect(shown(columnOf(cases, "operated"))).toEqual(["2015-01-05", "2015-01-05"]);
    expect(cases.fieldOfRole.get("revisionDate")).toBe("revised");
    expect(cases.fieldOfRole.get("technique:tourniquet:recordedOn")).toBe("tourniquet_noted");
    expect(cases.source.fileName).toBe("cases.csv");
    expect(cases.source.fileHash).toBe(contentHash(csv));
    expect([...cases.source.lineOfRow]).toEqual([2, 3]);
    expect(cases.findings.groups).toEqual([]);
  });

  it("finds columns by name in any order, and reports one that the dictionary does not describe", async () => {
    const fields = [
      { name: "case", type: "string", role: "caseId" },
      { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
      { name: "time", type: "number", role: "followUpTime", unit: "a" },
    ];
    const cases = await readCases(writeExport("time,secret,case,status\n1.5,zz,K1,0\n", descriptor(fields)));
    expect(columnOf(cases, "time").values[0]).toBe(1.5);
    expect([...cases.columns.keys()]).toEqual(["time", "case", "status"]);
    expect(cases.findings.groups).toMatchObject([
      { code: "column-not-described", severity: "warning", first: [{ details: { column: 2 } }] },
    ]);
    expect(JSON.stringify(cases.findings)).not.toContain("secret");
  });

  it("refuses a file that lacks columns, naming each", async () => {
    const error = await refusal(writeExport("case\nK1\n", descriptor(DATED_FIELDS.slice(0, 11))));
    expect(error.code).toBe("export-unreadable");
    expect(error.findings.groups.map(({ code }) => code)).toEqual(Array(10).fill("column-missing"));
    expect(error.findings.groups[0]?.field).toBe("patient");
  });

  it("names the column under which a missing one most likely stands now, and no other name of the header", async () => {
    const fields = [
      { name: "case", type: "string", role: "caseId" },
      { name: "age_years", type: "number", role: "ageYears" },
      { name: "operated_on", type: "date", role: "operationDate" },
      { name: "bmi", type: "number", role: "bmi" },
      { name: "revised_on", type: "date", role: "revisionDate" },
    ];
    const csv = "case,Age (years),OP-Datum,Erika Muster,Revised On\nK1,70,2020-01-01,x,\n";
    const error = await refusal(writeExport(csv, descriptor(fields, {}, { dataCut: "2021-12-31" })));
    expect(error.message.split("\n")).toEqual([
      "cases.csv: lacks columns that the dictionary describes:",
      ...[
        ["age_years", 2, "Age (years)"],
        ["operated_on", 3, "OP-Datum"],
      ].map(
        ([name, column, now]) =>
          `  ${name}: the dictionary describes this column, but the file has none of that name; column ${column}, "${now}", ` +
          "may be it: rename it in the file, or change the name of the field in the dictionary",
      ),
      "  bmi: the dictionary describes this column, but the file has none of that name; export it, or take the field out of the dictionary",
      expect.stringMatching(/^ {2}revised_on: .*; column 5, "Revised On", may be it: /),
      expect.stringMatching(/^ {2}line 1: column 4 of the file is not in the dictionary/),
    ]);
    expect(error.message).not.toContain("Muster");
  });

  it("names dictionary and path of each table that is not there, and what is called nearly so beside it", async () => {
    const two = { path: ["cases-2019.csv", "cases-2020.csv"] };
    const path = writeFiles(
      { "cases2019.CSV": "case\n", "Erika Muster.csv": "" },
      descriptor(DATED_FIELDS, two),
    );
    await expect(readCases(path)).rejects.toThrow(
      `${path}: names the table "cases-2019.csv", but there is no ${join(dirname(path), "cases-2019.csv")}; ` +
        '"cases2019.CSV" lies there: correct the path in the dictionary, or rename the file\n',
    );
    await expect(readCases(path)).rejects.toThrow(/"cases-2020\.csv".*\/cases-2020\.csv; /);
    await expect(readCases(path)).rejects.not.toThrow(/Muster/);
    const other = writeFiles({ "cases.xlsx": "" }, descriptor(DATED_FIELDS));
    await expect(readCases(other)).rejects.toThrow(/"cases\.xlsx" lies there/);
    const unlike = writeFiles({ "Erika Muster.csv": "" }, descriptor(DATED_FIELDS));
    await expect(readCases(unlike)).rejects.toThrow(
      /cases\.csv; 1 table of another name lies there; put the table there/,
    );
    const alone = writeFiles({}, descriptor(DATED_FIELDS));
    await expect(readCases(alone)).rejects.toThrow(
      /no table lies there; put the table there, or correct the path/,
    );
  });

  it("refuses a file that is no sound table, with all faults, before anything is read from it", async () => {
    const csv = `${datedCsv({}, {}, {})}K9,1\n"x"y,2\n`;
    const error = await refusal(writeExport(csv, descriptor(DATED_FIELDS)));
    expect(error.findings.groups.map(({ code, first }) => [code, first[0]?.row])).toEqual([
      ["ragged-record", 4],
      ["text-after-quote", 5],
    ]);
  });

  it("leaves nothing behind in the folder for temporary files, read or refused", async () => {
    const own = mkdtempSync(join(tmpdir(), "temporary-"));
    vi.stubEnv("TMPDIR", own);
    try {
      await readCases(
        writeExport(Buffer.from(LATIN, "latin1"), descriptor(LATIN_FIELDS, { encoding: "windows-1252" })),
      );
      expect(readdirSync(own)).toEqual([]);
      await refusal(writeExport(Buffer.from(`${LATIN}K2\n`, "latin1"), descriptor(LATIN_FIELDS)));
      expect(readdirSync(own)).toEqual([]);
    } finally {
      vi.unstubAllEnvs();
      rmSync(own, { recursive: true });
    }
  });

  it("reads Windows-1252 by its own table between 0x80 and 0x9F", async () => {
    const csv = Buffer.concat([Buffer.from("case,time,status,x\nK1,1,0,"), Buffer.from([0x80, 0x93, 0xfc])]);
    const cases = await readCases(writeExport(csv, descriptor(LATIN_FIELDS, { encoding: "windows-1252" })));
    // published: Unicode mapping table of code page 1252
    expect(shown(columnOf(cases))).toEqual(["€“ü"]);
  });

  it("reads a file whose name holds wildcard signs as that file alone", async () => {
    const path = writeExport(datedCsv({}), descriptor(DATED_FIELDS, { path: "c[as]*s?.csv" }));
    copyFileSync(
      path.replace("datapackage.json", "cases.csv"),
      path.replace("datapackage.json", "c[as]*s?.csv"),
    );
    expect((await readCases(path)).rows).toBe(1);
  });
});

describe("dates", () => {
  const date = { type: "date" };

  it("are calendar days, back to before 1900 and over leap years", async () => {
    const cells = ["1970-01-01", "1969-12-31", "2016-02-29", "1899-12-30", "9999-12-31", "0001-01-01"];
    const cases = await readColumn(date, cells);
    expect(shown(columnOf(cases))).toEqual(cells);
    expect(cases.findings.groups).toEqual([]);
  });

  it("of no calendar are findings, never another day", async () => {
    const cells = [
      "2019-02-30",
      "2019-13-01",
      "2019-1-5",
      "19-01-05",
      "2019/01/05",
      "05/07/2019",
      "2019-01-05T00:00:00",
      "2019-01-05 00:00",
      "20190105",
      "infinity",
      "-infinity",
      "epoch",
      "today",
      "2019",
      "0001-01-01 (BC)",
      "10000-01-01",
      "\uff12019-01-05",
    ];
    const cases = await readColumn(date, ["2019-01-05", ...cells]);
    expect(shown(columnOf(cases))).toEqual(["2019-01-05", ...cells.map(() => "[not readable]")]);
    expect(found(cases)).toEqual([2, 3, 4].map((row) => ["value-not-a-date", row, row + 1]));
    expect(cases.findings.errors).toBe(cells.length);
  });

  it("written as a spreadsheet's serial numbers are called so", async () => {
    expect(found(await readColumn(date, ["43466", "40968.0"]))).toEqual([
      ["date-is-serial-number", 1, 2],
      ["date-is-serial-number", 2, 3],
    ]);
  });

  it("follow a stated order of day, month and year, and nothing else", async () => {
    const cases = await readColumn({ type: "date", format: "%d/%m/%Y" }, [
      "03/04/2019",
      "31/01/2019",
      "02/13/2019",
      "3/4/2019",
      "2019-04-03",
    ]);
    expect(shown(columnOf(cases))).toEqual(["2019-04-03", "2019-01-31", ...Array(3).fill("[not readable]")]);
    expect(found(cases)).toEqual([3, 4, 5].map((row) => ["value-not-a-date", row, row + 1]));
    const american = await readColumn({ type: "date", format: "%m.%d.%Y" }, ["03.04.2019"]);
    expect(shown(columnOf(american))).toEqual(["2019-03-04"]);
  });

  it("are read without the spaces around them, which is noted", async () => {
    const cases = await readColumn(date, [" 2019-01-05 ", "  "]);
    expect(shown(columnOf(cases))).toEqual(["2019-01-05", "[blank]"]);
    expect(cases.findings).toMatchObject({ errors: 0, notes: 1, groups: [{ code: "spaces-around-value" }] });
  });

  it("know a missing value that is itself a date", async () => {
    const field = { type: "date", missingValues: [{ value: "9999-12-31", label: "still alive" }] };
    expect(shown(columnOf(await readColumn(field, ["9999-12-31", " 9999-12-31", "", "2019-01-05"])))).toEqual(
      ["[still alive]", "[still alive]", "[blank]", "2019-01-05"],
    );
  });
});

describe("numbers", () => {
  it("are plain decimal numbers", async () => {
    const cells = ["0", "-5", "27.8", "007", "1234567.125", "-0.5"];
    const cases = await readColumn({ type: "number" }, cells);
    expect([...columnOf(cases).values]).toEqual([0, -5, 27.8, 7, 1234567.125, -0.5]);
    expect(cases.findings.groups).toEqual([]);
  });

  it("in any other form are findings", async () => {
    const cells = "27;8 1e3 inf nan NaN 0x1F 1_000 +5 .5 5. 1\u00a0000 5kg --5 5- ½ ٣".split(" ");
    const cases = await readColumn({ type: "number" }, ["1", ...cells, "1 000", "9".repeat(400)]);
    expect(shown(columnOf(cases))).toEqual(["1", ...Array(cells.length + 2).fill("[not readable]")]);
    expect(found(cases)).toEqual([2, 3, 4].map((row) => ["value-not-a-number", row, row + 1]));
  });

  it("are whole where the dictionary says integer, and not so long that digits are lost", async () => {
    const cells = ["5", "-5", "5.0", "5.5", "9007199254740991", "9007199254740993"];
    const cases = await readColumn({ type: "integer" }, cells);
    const refused = "[not readable]";
    expect(shown(columnOf(cases))).toEqual(["5", "-5", refused, refused, "9007199254740991", refused]);
  });

  it("use a decimal comma where the dictionary says so, and then no point", async () => {
    const cases = await readColumn({ type: "number", decimalChar: "," }, [
      '"27,8"',
      "24",
      "28.9",
      '"1.234,5"',
    ]);
    expect(shown(columnOf(cases))).toEqual(["27.8", "24", "[not readable]", "[not readable]"]);
  });

  it("know missing values that are themselves numbers", async () => {
    const field = { type: "number", missingValues: ["", { value: "999", label: "not measured" }] };
    expect(shown(columnOf(await readColumn(field, ["999", "", "99", "999.0"])))).toEqual([
      "[not measured]",
      "[blank]",
      "99",
      "999",
    ]);
  });
});

describe("codes", () => {
  const side = { type: "string", categories: [{ value: "left", label: "left knee" }, { value: "right" }] };

  it("keep the words of the file and the labels of the dictionary, in its order", async () => {
    const column = columnOf(await readColumn(side, ["right", "left"]));
    expect(column).toMatchObject({ kind: "code", codes: ["left", "right"], labels: ["left knee", "right"] });
    expect([...column.values]).toEqual([1, 0]);
  });

  it("recognise a word in other capitals or between spaces, and note it", async () => {
    const cases = await readColumn(side, ["LEFT", " right ", "Left", "left"]);
    expect(shown(columnOf(cases))).toEqual(["left", "right", "left", "left"]);
    expect(cases.findings).toMatchObject({
      errors: 0,
      notes: 3,
      groups: [{ code: "word-respelt", count: 3 }],
    });
  });

  it("do not guess where capitals tell two words apart", async () => {
    const field = { type: "string", categories: [{ value: "a" }, { value: "A" }, { value: "b" }] };
    expect(shown(columnOf(await readColumn(field, ["a", "A", " a", "B"])))).toEqual([
      "a",
      "A",
      "[not readable]",
      "b",
    ]);
  });

  it("do not guess between a word and a missing value", async () => {
    const field = { type: "string", categories: [{ value: "N" }, { value: "y" }], missingValues: ["n"] };
    expect(shown(columnOf(await readColumn(field, ["N", "n", " n", "Y"])))).toEqual([
      "N",
      "[n]",
      "[not readable]",
      "y",
    ]);
  });

  it("report a word outside the dictionary with its row and line, and never use it", async () => {
    const cases = await readColumn(side, ["left", "both", "right"]);
    expect(shown(columnOf(cases))).toEqual(["left", "[not readable]", "right"]);
    expect(found(cases)).toEqual([["word-not-in-dictionary", 2, 3]]);
  });

  it("may be written as numbers in dictionary and file", async () => {
    const field = { type: "integer", categories: [{ value: 1, label: "healthy" }, { value: 2 }] };
    expect(shown(columnOf(await readColumn(field, ["2", "1", "2"])))).toEqual(["2", "1", "2"]);
  });

  it("are the words met, in order, where the dictionary lists none", async () => {
    const cases = await readColumn({ type: "string", missingValues: ["?"] }, ["C2", "C1", "", "?", "C2"]);
    expect(columnOf(cases)).toMatchObject({ kind: "code", codes: ["C1", "C2"] });
    expect(shown(columnOf(cases))).toEqual(["C2", "C1", "[blank]", "[?]", "C2"]);
  });

  it("are never merged without a list, but look-alikes are reported", async () => {
    const cases = await readColumn({ type: "string" }, ["C1", "c1", "C2"]);
    expect(shown(columnOf(cases))).toEqual(["C1", "c1", "C2"]);
    expect(cases.findings.groups).toMatchObject([{ code: "codes-look-alike", severity: "warning" }]);
  });

  it("of a boolean are the words of the open standard", async () => {
    const cases = await readColumn({ type: "boolean" }, ["true", "False", "1", "0", "", "ja"]);
    expect(shown(columnOf(cases))).toEqual(["true", "false", "true", "false", "[blank]", "[not readable]"]);
    expect(cases.findings).toMatchObject({ errors: 1, notes: 0 });
  });

  it("take two bytes where there are more than 256", async () => {
    const words = Array.from({ length: 300 }, (_, index) => `W${1000 + index}`);
    const column = columnOf(await readColumn({ type: "string" }, words));
    expect(column.values).toBeInstanceOf(Uint16Array);
    expect(shown(column)).toEqual(words);
  });

  it("become text where there are more than 16 bits can tell apart", async () => {
    const words = Array.from({ length: 66_000 }, (_, index) => `W${index}`);
    const column = columnOf(await readColumn({ type: "string" }, words));
    expect(column.kind).toBe("text");
    expect(column.values[65_999]).toBe("W65999");
  });
});

describe("missing values", () => {
  it("of a field stand in place of those of the table", async () => {
    const schema = { missingValues: ["", "unknown"] };
    const fields = (own: Json) => [
      { name: "case", type: "string", role: "caseId" },
      { name: "time", type: "number", role: "followUpTime", unit: "d" },
      { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
      { name: "x", type: "number", ...own },
    ];
    const read = async (own: Json) => {
      const description = descriptor(fields(own), { schema: { ...schema, fields: fields(own) } });
      return shown(
        columnOf(await readCases(writeExport("case,time,status,x\nK1,1,0,unknown\nK2,1,0,9\n", description))),
      );
    };
    expect(await read({})).toEqual(["[unknown]", "9"]);
    expect(await read({ missingValues: [{ value: "9", label: "not asked" }] })).toEqual([
      "[not readable]",
      "[not asked]",
    ]);
  });

  it("of a blank cell keep the label that the dictionary gives a blank", async () => {
    const field = { type: "number", missingValues: [{ value: "", label: "not recorded" }] };
    expect(shown(columnOf(await readColumn(field, ["", '""', "  "])))).toEqual(
      Array(3).fill("[not recorded]"),
    );
  });
});

describe("constraints", () => {
  it("report missing, repeated, too small and too large values", async () => {
    const number = {
      type: "number",
      constraints: { required: true, unique: true, minimum: 10, maximum: 20 },
    };
    expect(found(await readColumn(number, ["10", "", "9.99", "20", "20.5", "10"]))).toEqual([
      ["value-required", 2, 3],
      ["value-repeated", 6, 7],
      ["value-below-minimum", 3, 4],
      ["value-above-maximum", 5, 6],
    ]);
    const date = { type: "date", constraints: { minimum: "2015-01-01", maximum: "2015-12-31" } };
    expect(
      found(await readColumn(date, ["2014-12-31", "2015-01-01", "2015-12-31", "2016-01-01", ""])),
    ).toEqual([
      ["value-below-minimum", 1, 2],
      ["value-above-maximum", 4, 5],
    ]);
    const text = { type: "string", constraints: { unique: true } };
    expect(found(await readColumn(text, ["a", "b", "a", "", ""]))).toEqual([["value-repeated", 3, 4]]);
  });

  it("require a case id whatever the dictionary says", async () => {
    const cases = await readCases(writeExport(datedCsv({ case: "" }), descriptor(DATED_FIELDS)));
    expect(found(cases)).toEqual([["value-required", 1, 2]]);
  });
});
