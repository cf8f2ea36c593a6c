import { mkdtempSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { missingReason } from "../../../src/base/column.ts";
import type { Finding } from "../../../src/base/finding.ts";
import type { Cases } from "../../../src/cases/cases.ts";
import { checkCases } from "../../../src/cases/check-cases.ts";
import { ExportError } from "../../../src/cases/export-error.ts";
import { describeFinding } from "../../../src/cases/messages.ts";
import { readCases } from "../../../src/cases/read-cases.ts";
import { TABLE_FINDING_CODES } from "../../../src/cases/tables/messages.ts";
import { zipSizes } from "../../../src/cases/tables/zip-sizes.ts";
import { descriptor, type Json, writeExport, writeFiles } from "../export-file.ts";
import { csvText, gzip, parquetOf, type Table, utf16, workbook } from "./table-files.ts";

const FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "bmi", type: "number", role: "bmi" },
  { name: "ward", type: "string" },
];
const STUDY = { dataCut: "2030-01-01" };
const TABLE: Table = {
  header: FIELDS.map(({ name }) => String(name)),
  rows: [
    ["Zq7Xw1", { day: "2015-01-05" }, { day: "2016-01-05" }, 27.8, "north"],
    ["Zq7Xw2", { day: "2015-02-05" }, null, 31.5, "south"],
    ["Zq7Xw3", { day: "2015-03-05" }, null, 24, "south"],
  ],
};

/** Every finding code that a test below met. */
const met = new Set<string>();
const SECRET = "Zq7Xw";

type Found = Pick<Finding, "code"> & Partial<Finding>;

function kept({ findings }: { findings: Cases["findings"] }): Found[] {
  for (const group of findings.groups) {
    met.add(group.code);
    const sentence = describeFinding(group);
    expect(sentence).not.toMatch(/undefined|NaN|\[object/);
    expect(sentence + JSON.stringify(group)).not.toContain(SECRET);
  }
  return findings.groups.flatMap(({ first }) => first.map(({ severity: _severity, ...rest }) => rest));
}

async function read(content: string | Uint8Array, resource: Json = {}, changes: Json = {}) {
  const fields = FIELDS.map((field) => ({ ...field, ...(changes[String(field.name)] as Json | undefined) }));
  return readCases(writeExport(content, descriptor(fields, resource, STUDY)));
}

/** What is found in a file that is read, or that refuses the reading. */
async function findings(...given: Parameters<typeof read>): Promise<Found[]> {
  return foundBy(read(...given));
}

async function foundBy(reading: Promise<Cases>): Promise<Found[]> {
  return kept(
    await reading.catch((error: unknown) => {
      if (error instanceof ExportError) return error;
      throw error;
    }),
  );
}

function reason(cases: Cases, name: string, row: number) {
  const column = cases.columns.get(name);
  return column === undefined ? "no column" : missingReason(column, row);
}

describe("a packed or wide file", () => {
  it.each([0.3, 0.9])("that is cut short after a share of %f is refused", async (share) => {
    const whole = gzip(csvText(TABLE));
    expect(await findings(whole.subarray(0, Math.floor(share * whole.length)))).toEqual([
      { code: "gzip-damaged" },
    ]);
  });

  it("whose check sum does not fit is refused", async () => {
    const bytes = gzip(csvText(TABLE));
    bytes[bytes.length - 6] = (bytes[bytes.length - 6] ?? 0) ^ 1;
    expect(await findings(bytes)).toEqual([{ code: "gzip-damaged" }]);
  });

  it.each([
    ["half a surrogate pair", utf16("case,b\nx,1\ny,\ud83d\n", "little"), 3],
    ["half a pair, big-endian", utf16("case,b\r\nx,\udc00\r\n", "big"), 2],
    ["half a sign", utf16("case\r\nx\r\ny", "little").subarray(0, -1), 3],
  ])("with %s is refused with its line", async (_, content, line) => {
    expect(await findings(content)).toEqual([{ code: "encoding-not-utf16", line }]);
  });

  it("whose mark contradicts the descriptor is refused", async () => {
    expect(await findings(utf16(csvText(TABLE), "little"), { encoding: "windows-1252" })).toMatchObject([
      { code: "encoding-contradicted", details: { mark: "utf-16le", encoding: "windows-1252" } },
    ]);
    expect(await findings(`\ufeff${csvText(TABLE)}`, { encoding: "utf-16" })).toMatchObject([
      { code: "encoding-contradicted", details: { mark: "utf-8" } },
    ]);
    expect(await findings(utf16(csvText(TABLE), "big"), { encoding: "utf-16le" })).toMatchObject([
      { code: "encoding-contradicted", details: { mark: "utf-16be" } },
    ]);
  });

  it("keeps line numbers and faults of its text", async () => {
    const text = `${csvText(TABLE)}Zq7Xw4,2015-01-01,,"27`;
    const plain = await findings(text);
    expect(plain).toEqual([{ code: "quote-not-closed", row: 4, line: 5 }]);
    expect(await findings(utf16(text, "big"))).toEqual(plain);
    expect(await findings(gzip(text))).toEqual(plain);
  });
});

describe("a workbook", () => {
  it("refuses merged cells, and says which", async () => {
    const sheet = workbook(TABLE, (cells) => {
      cells["!merges"] = [{ s: { r: 1, c: 4 }, e: { r: 2, c: 4 } }];
    });
    const cases = await read(sheet);
    expect(kept(cases)).toEqual([
      { code: "cell-merged", row: 1, line: 2, field: "ward" },
      { code: "cell-merged", row: 2, line: 3, field: "ward" },
    ]);
    expect([0, 1, 2].map((row) => reason(cases, "ward", row))).toEqual([
      "not readable",
      "not readable",
      undefined,
    ]);
  });

  it("refuses merged names of columns", async () => {
    const sheet = workbook(TABLE, (cells) => {
      cells["!merges"] = [{ s: { r: 0, c: 1 }, e: { r: 0, c: 2 } }];
    });
    expect((await findings(sheet)).map(({ code }) => code)).toContain("header-merged");
  });

  it("refuses errors, formulas without a value, and dates where none belong, by cell", async () => {
    const sheet = workbook(TABLE, (cells) => {
      cells.D2 = { t: "e", v: 0x2a };
      cells.D3 = { t: "n", f: "1+1" };
      cells.E4 = { t: "n", v: 43466, z: "d-mmm" };
      cells.A2 = { t: "n", v: 1.5e18 };
    });
    const cases = await read(sheet);
    expect(kept(cases)).toEqual([
      { code: "number-lost-digits", row: 1, line: 2, field: "case" },
      { code: "cell-is-error", row: 1, line: 2, field: "bmi" },
      { code: "formula-without-value", row: 2, line: 3, field: "bmi" },
      { code: "cell-is-date", row: 3, line: 4, field: "ward" },
    ]);
    expect(reason(cases, "case", 0)).toBe("not readable");
  });

  it("refuses a time of day, a day that was never, and a serial number without a date format", async () => {
    const sheet = workbook(TABLE, (cells) => {
      cells.B2 = { t: "n", v: 43466.25, z: "yyyy-mm-dd hh:mm" };
      cells.B3 = { t: "n", v: 60, z: "yyyy-mm-dd" };
      cells.B4 = { t: "n", v: 43466 };
    });
    expect(await findings(sheet)).toEqual([
      { code: "date-has-time", row: 1, line: 2, field: "operated" },
      { code: "value-not-a-date", row: 2, line: 3, field: "operated" },
      { code: "date-is-serial-number", row: 3, line: 4, field: "operated" },
    ]);
  });

  it("keeps the zeros of codes, reads sheets by number, and passes over blank rows below the table", async () => {
    const sheet = workbook(
      TABLE,
      (cells) => {
        cells.A2 = { t: "n", v: 123, z: "00000" };
        cells.A3 = { t: "n", v: 45 };
        cells["!ref"] = "A1:F9";
        cells.C8 = { t: "s", v: "" };
      },
      { before: ["notes"] },
    );
    const cases = await read(sheet, { dialect: { sheetNumber: 2 } });
    expect(kept(cases)).toEqual([]);
    expect(cases.columns.get("case")?.values).toEqual(["00123", "45", "Zq7Xw3"]);
  });

  it("reports gaps, cells outside the table and hidden rows", async () => {
    const sheet = workbook(TABLE, (cells) => {
      for (const column of ["A", "B", "C", "D", "E"]) delete cells[`${column}3`];
      cells.G4 = { t: "s", v: SECRET };
      cells["!ref"] = "A1:G4";
      cells["!rows"] = [{}, { hidden: true }];
    });
    expect(await findings(sheet)).toEqual([
      { code: "cell-outside-table", row: 2, line: 4 },
      { code: "blank-line", line: 3 },
      { code: "rows-hidden", details: { hidden: 1 } },
    ]);
  });

  it("without the sheet, without rows, of an older kind, or cut short is refused", async () => {
    expect(await findings(workbook(TABLE), { dialect: { sheetName: "other" } })).toMatchObject([
      { code: "sheet-missing", details: { sheets: 1 } },
    ]);
    expect(await findings(workbook({ header: TABLE.header, rows: [] }))).toEqual([{ code: "no-records" }]);
    expect(await findings(Buffer.from("d0cf11e0a1b11ae1", "hex"))).toEqual([{ code: "workbook-not-xlsx" }]);
    const whole = workbook(TABLE);
    expect(await findings(whole.subarray(0, whole.length / 2))).toEqual([{ code: "workbook-damaged" }]);
    expect(await findings(workbook(TABLE), { format: "csv" })).toMatchObject([
      { code: "format-contradicted", details: { stated: "csv", found: "xlsx" } },
    ]);
  });

  const folder = mkdtempSync(join(tmpdir(), "large-test-"));
  afterAll(() => rmSync(folder, { recursive: true }));

  it("over 100 MB is refused before it is read", async () => {
    const path = writeExport(workbook(TABLE), descriptor(FIELDS, {}, STUDY));
    const file = path.replace("datapackage.json", "cases.csv");
    const bytes = workbook(TABLE);
    // A sparse file: the directory stands at the end, as in a real archive.
    writeFileSync(file, bytes.subarray(0, 4));
    truncateSync(file, 100_000_001 - bytes.length);
    const end = Buffer.from(bytes);
    const at = end.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
    end.writeUInt32LE(end.readUInt32LE(at + 16) + 100_000_001 - bytes.length, at + 16);
    writeFileSync(file, end, { flag: "a" });
    expect(zipSizes(file)?.packed).toBe(100_000_001);
    expect(await foundBy(readCases(path))).toMatchObject([{ code: "workbook-too-large" }]);
  });
});

describe("a Parquet file", () => {
  const select = (operated: string, rest = "27.8::DOUBLE AS bmi, 'north' AS ward") =>
    `SELECT '${SECRET}1' AS "case", ${operated} AS operated, NULL::DATE AS revised, ${rest}`;

  it("refuses instants and times of day in place of days, and names the column once", async () => {
    const zoned = await read(await parquetOf(select("TIMESTAMPTZ '2015-01-05 00:00:00+00'")));
    expect(kept(zoned)).toEqual([{ code: "timestamp-with-zone", field: "operated" }]);
    expect(reason(zoned, "operated", 0)).toBe("not readable");
    expect(await findings(await parquetOf(select("TIMESTAMP '2015-01-05'")))).toEqual([
      { code: "timestamp-not-date", field: "operated" },
    ]);
  });

  it("refuses lists, records, blobs and times, and reads what the dictionary does not describe not at all", async () => {
    const nested = "[27.8] AS bmi, {'a': 1} AS ward";
    expect(await findings(await parquetOf(select("DATE '2015-01-05'", nested)))).toEqual([
      { code: "column-nested", field: "bmi" },
      { code: "column-nested", field: "ward" },
    ]);
    const others = "27.8::DOUBLE AS bmi, TIME '10:00:00' AS ward, [1] AS extra";
    expect(await findings(await parquetOf(select("DATE '2015-01-05'", others)))).toEqual([
      { code: "column-type-not-read", field: "ward" },
      { code: "column-not-described", line: 1, details: { column: 6 } },
    ]);
  });

  it("reads decimals exactly, texts as dates in the stated form, and refuses what is no number", async () => {
    const cases = await read(
      await parquetOf(select("'05.01.2015'", "27.8::DECIMAL(9,3) AS bmi, 7::BIGINT AS ward")),
      {},
      {
        operated: { format: "%d.%m.%Y" },
      },
    );
    expect(kept(cases)).toEqual([]);
    expect(cases.columns.get("bmi")?.values[0]).toBe(27.8);
    expect(
      await findings(
        await parquetOf(select("DATE '2015-01-05'", "'NaN'::DOUBLE AS bmi, 1e20::DOUBLE AS ward")),
      ),
    ).toEqual([
      { code: "value-not-a-number", row: 1, field: "bmi" },
      { code: "number-lost-digits", row: 1, field: "ward" },
    ]);
  });

  it("keeps every digit of long whole numbers", async () => {
    const cases = await read(
      await parquetOf(
        `SELECT 9007199254740993::BIGINT AS "case", DATE '2015-01-05' AS operated, NULL::DATE AS revised, 1 AS bmi, 'a' AS ward`,
      ),
    );
    expect(cases.columns.get("case")?.values).toEqual(["9007199254740993"]);
  });

  it("of many row groups keeps the order of rows", async () => {
    const rows = 25_000;
    const cases = await read(
      await parquetOf(
        `SELECT 'K' || i AS "case", DATE '2015-01-05' AS operated, NULL::DATE AS revised, 20 + i % 30 AS bmi, NULL::VARCHAR AS ward
         FROM range(${rows}) AS t(i) ORDER BY i`,
        ", ROW_GROUP_SIZE 2048",
      ),
    );
    expect(cases.columns.get("case")?.values).toEqual(Array.from({ length: rows }, (_, row) => `K${row}`));
    expect(cases.columns.get("bmi")?.values.at(-1)).toBe(20 + ((rows - 1) % 30));
  });

  it("that is cut short or damaged is refused", async () => {
    const whole = await parquetOf(select("DATE '2015-01-05'"));
    expect(await findings(whole.subarray(0, whole.length - 9))).toEqual([{ code: "parquet-damaged" }]);
    expect(await findings(Buffer.from("PAR1PAR1"))).toEqual([{ code: "parquet-damaged" }]);
  });
});

describe("a table in several files", () => {
  const year = (...rows: readonly (readonly (string | number | null)[])[]): string =>
    csvText({ header: TABLE.header, rows });
  const resource = { path: ["2015.csv", "2016.csv"] };
  const readYears = (first: string | Uint8Array, second: string | Uint8Array) =>
    readCases(writeFiles({ "2015.csv": first, "2016.csv": second }, descriptor(FIELDS, resource, STUDY)));
  const FIRST = year(["K1", "2015-01-05", null, 27.8, "north"], ["K2", "2015-02-05", null, 30, "south"]);

  it("is one table: rows count on, lines start anew, findings name the file", async () => {
    const cases = await readYears(
      FIRST,
      year(
        ["K3", "2016-01-05", null, 27.8, "east"],
        ["K4", "never", "2015-01-01", 31, "east"],
        ["K5", "2016-01-05", "2015-01-01", 31, "east"],
      ),
    );
    expect(cases.rows).toBe(5);
    expect(cases.columns.get("case")?.values).toEqual(["K1", "K2", "K3", "K4", "K5"]);
    expect([...cases.source.lineOfRow]).toEqual([2, 3, 2, 3, 4]);
    expect(cases.source.fileName).toBe("2015.csv, 2016.csv");
    expect(kept(cases)).toEqual([
      { code: "value-not-a-date", row: 4, line: 3, file: "2016.csv", field: "operated" },
    ]);
    expect(cases.findings.groups.map(describeFinding)[0]).toMatch(
      /^row 4 \(2016.csv line 3\), operated: is no calendar/,
    );
    expect(kept({ findings: checkCases(cases) })).toMatchObject([
      { code: "revision-before-operation", row: 5, line: 4, file: "2016.csv" },
    ]);
  });

  it("may order its columns anew and mix formats", async () => {
    const [, ...rest] = TABLE.header;
    const turned = csvText({ header: [...rest, "case"], rows: [["2016-01-05", null, 28, "east", "K3"]] });
    expect((await readYears(FIRST, turned)).columns.get("case")?.values).toEqual(["K1", "K2", "K3"]);
    const mixed = await readYears(workbook(TABLE), gzip(turned));
    expect(mixed.columns.get("case")?.values).toEqual(["Zq7Xw1", "Zq7Xw2", "Zq7Xw3", "K3"]);
  });

  it("with other columns in one of them is refused", async () => {
    const other = csvText({
      header: ["case", "operated", "revised", "BMI", "ward"],
      rows: [["K3", "2016-01-05", null, 28, "east"]],
    });
    expect(await foundBy(readYears(FIRST, other))).toEqual([
      { code: "file-lacks-column", line: 1, file: "2016.csv", field: "bmi" },
      { code: "file-has-other-column", line: 1, file: "2016.csv", details: { column: 4 } },
    ]);
  });

  it("in two encodings is refused, and so is a fault in any file, by its name", async () => {
    const path = writeFiles(
      { "2015.csv": FIRST, "2016.csv": workbook(TABLE) },
      descriptor(FIELDS, { ...resource, encoding: "windows-1252" }, STUDY),
    );
    expect(await foundBy(readCases(path))).toMatchObject([
      { code: "file-has-other-encoding", file: "2016.csv" },
    ]);
    expect(await foundBy(readYears(FIRST, `${FIRST}x,y\n`))).toMatchObject([
      { code: "ragged-record", row: 5, line: 4, file: "2016.csv" },
    ]);
  });
});

describe("dates that the dictionary says how to read", () => {
  const csv = (...days: readonly string[]) =>
    csvText({ header: TABLE.header, rows: days.map((day, at) => [`K${at}`, day, null, 27, "north"]) });

  it("may be a spreadsheet's serial numbers, and a mixture is reported", async () => {
    const cases = await read(
      csv("43466", "43555", "40968.0", "2020-06-15"),
      {},
      { operated: { serialDates: 1900 } },
    );
    expect(cases.columns.get("operated")?.values).toEqual(Int32Array.of(17_897, 17_986, 15_399, 18_428));
    expect(kept(cases)).toEqual([
      { code: "dates-and-serial-numbers", field: "operated", details: { serials: 3, dates: 1 } },
    ]);
    // The other system counts from 1904: numbers 1462 lower are the same days.
    const later = await read(csv("42004", "42093", "39506"), {}, { operated: { serialDates: 1904 } });
    expect(later.columns.get("operated")?.values).toEqual(Int32Array.of(17_897, 17_986, 15_399));
    expect(kept(later)).toEqual([]);
  });

  it("refuses serial numbers that no calendar has", async () => {
    expect(
      await findings(csv("60", "43466.5", "61", "2958466"), {}, { operated: { serialDates: 1900 } }),
    ).toEqual([1, 2, 4].map((row) => ({ code: "value-not-a-date", row, line: row + 1, field: "operated" })));
  });

  it("may have years of two digits within a stated hundred years", async () => {
    const form = { operated: { format: "%d.%m.%y", twoDigitYearsFrom: 1950 } };
    const cases = await read(csv("31.12.49", "01.01.50", "29.02.00", "29.02.01"), {}, form);
    expect([...(cases.columns.get("operated")?.values ?? [])].slice(0, 3)).toEqual([29_219, -7305, 11_016]);
    expect(kept(cases)).toEqual([{ code: "value-not-a-date", row: 4, line: 5, field: "operated" }]);
    await expect(read(csv("31.12.49"), {}, { operated: { format: "%d.%m.%y" } })).rejects.toThrow(
      "needs twoDigitYearsFrom",
    );
  });
});

describe("a value in another unit", () => {
  const csv = (...values: readonly (number | null)[]) =>
    csvText({
      header: TABLE.header,
      rows: values.map((value, at) => [`K${at}`, "2015-01-05", null, value, "north"]),
    });

  it("is reported by row, and by column where over half are in it; nothing is converted", async () => {
    const one = await read(csv(27.8, 1.72, 31, null, 171));
    expect(kept(one)).toEqual([
      {
        code: "value-in-other-unit",
        row: 2,
        line: 3,
        field: "bmi",
        details: { unit: "kg/m²", other: "a height in metres" },
      },
      {
        code: "value-in-other-unit",
        row: 5,
        line: 6,
        field: "bmi",
        details: { unit: "kg/m²", other: "a height in centimetres" },
      },
    ]);
    expect(one.columns.get("bmi")?.values[1]).toBe(1.72);
    expect(await findings(csv(1.6, 1.72, 31))).toMatchObject([
      { code: "column-in-other-unit", field: "bmi", details: { rows: 2, present: 3 } },
    ]);
  });

  it.each([
    ["Cel", [20.5, 69], "degrees Fahrenheit"],
    ["[degF]", [69, 20.5], "degrees Celsius"],
    ["m", [1.7, 170], "centimetres"],
    ["cm", [170, 1.7], "metres"],
    ["kg", [80, 80_000], "grams"],
  ])("is known for the unit %s", async (unit, values, other) => {
    expect(await findings(csv(...values), {}, { bmi: { role: undefined, unit } })).toMatchObject([
      { code: "value-in-other-unit", row: 2, details: { other } },
    ]);
    expect(await findings(csv(values[0] ?? 0), {}, { bmi: { role: undefined, unit } })).toEqual([]);
  });

  it("is known for ages written as years of birth or months", async () => {
    const age = { bmi: { role: "ageYears" } };
    expect(await findings(csv(66, 1950, 792), {}, age)).toMatchObject([
      { code: "value-in-other-unit", row: 2, details: { other: "a year of birth" } },
      { code: "value-in-other-unit", row: 3, details: { other: "months" } },
    ]);
  });
});

describe("sentences about files", () => {
  it("are all used, and only where something larger than a test was met they are not", () => {
    const unmet = TABLE_FINDING_CODES.filter((code) => !met.has(code));
    expect(unmet).toEqual(["utf16-too-large", "gzip-too-large"]);
  });
});
