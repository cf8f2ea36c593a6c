import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayNumber } from "../../../src/base/day-number.ts";
import type { Cases } from "../../../src/cases/cases.ts";
import { readCases } from "../../../src/cases/read-cases.ts";
import { descriptor, type Json, writeExport } from "../export-file.ts";
import {
  type Cell,
  csvText,
  gzip,
  parquet,
  type Table,
  utf16,
  windows1252,
  workbook,
} from "./table-files.ts";

const FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "patient", type: "string", role: "patientId" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "bmi", type: "number", role: "bmi" },
  { name: "age", type: "integer", role: "ageYears" },
  { name: "side", type: "string", categories: [{ value: "left" }, { value: "right" }], role: "side" },
  { name: "drain", type: "boolean" },
  { name: "ward", type: "string" },
];
const HEADER = FIELDS.map(({ name }) => String(name));
const TYPES = ["VARCHAR", "VARCHAR", "DATE", "DATE", "DOUBLE", "INTEGER", "VARCHAR", "BOOLEAN", "VARCHAR"];
const STUDY = { dataCut: "2030-01-01" };

const day = fc.integer({ min: 0, max: 20_000 }).map((days) => ({
  day: new Date(days * 86_400_000).toISOString().slice(0, 10),
}));
const ward = fc
  .string({
    unit: fc.constantFrom("a", "Z", " ", ",", ";", "\t", "|", '"', "å", "ß", "€", "1"),
    maxLength: 12,
  })
  .filter((text) => text.trim() === text);
const row = fc.tuple(
  fc.stringMatching(/^[0-9A-Z]{1,20}$/),
  fc.stringMatching(/^[0-9]{1,24}$/),
  day,
  fc.option(day),
  fc.option(fc.double({ min: 8, max: 120, noNaN: true })),
  fc.integer({ min: 0, max: 120 }),
  fc.constantFrom("left", "right"),
  fc.option(fc.boolean()),
  ward,
);
const tables = fc.array(row, { minLength: 1, maxLength: 8 }).map(
  (rows): Table => ({
    header: HEADER,
    rows: rows.map(([id, ...cells], at): Cell[] => [`${id}-${at}`, ...cells]),
  }),
);

/** What a reader of columns sees, without where it came from. */
function seen({ rows, columns, findings }: Cases) {
  return {
    rows,
    columns: [...columns].map(([name, column]) => {
      const present = Array.from(column.missing, (mark, at) => (mark === 0 ? column.values[at] : null));
      const { kind, missingReasons } = column;
      return { name, kind, missingReasons, missing: [...column.missing], present };
    }),
    errors: findings.errors,
  };
}

async function read(content: string | Uint8Array, resource: Json = {}, changes: Json = {}) {
  const fields = FIELDS.map((field) => ({ ...field, ...(changes[String(field.name)] as Json | undefined) }));
  return seen(await readCases(writeExport(content, descriptor(fields, resource, STUDY))));
}

const dayFirst = (iso: string) => iso.split("-").reverse().join("/");
const CONTINENTAL = {
  operated: { format: "%d/%m/%Y" },
  revised: { format: "%d/%m/%Y" },
  bmi: { decimalChar: "," },
};

describe("the same table", () => {
  it("gives the same columns from every format", async () => {
    await fc.assert(
      fc.asyncProperty(tables, async (table) => {
        const plain = await read(csvText(table));
        expect(plain.errors).toBe(0);
        expect(plain.rows).toBe(table.rows.length);
        const same = [
          read(csvText(table, { delimiter: "\t", lineEnd: "\r" }), { dialect: { delimiter: "\t" } }),
          read(csvText(table, { delimiter: "|", lineEnd: "\r\n" }), { dialect: { delimiter: "|" } }),
          read(
            csvText(table, { delimiter: ";", decimalChar: ",", date: dayFirst }),
            { dialect: { delimiter: ";" } },
            CONTINENTAL,
          ),
          read(`\ufeff${csvText(table)}`),
          read(windows1252(csvText(table)), { encoding: "windows-1252" }),
          read(utf16(csvText(table), "little")),
          read(utf16(csvText(table), "big"), { encoding: "utf-16" }),
          read(utf16(csvText(table), "big").subarray(2), { encoding: "utf-16be" }),
          read(gzip(csvText(table))),
          read(gzip(utf16(csvText(table), "little"))),
          read(workbook(table), { format: "xlsx" }),
          read(workbook(table), {}, CONTINENTAL),
          read(workbook(table, undefined, { countsFrom1904: true, before: ["first"] }), {
            dialect: { sheetName: "cases" },
          }),
          read(await parquet(table, TYPES), { format: "parquet" }),
          read(await parquet(table, TYPES, ", COMPRESSION zstd, ROW_GROUP_SIZE 3"), {}, CONTINENTAL),
        ];
        for (const other of await Promise.all(same)) expect(other).toEqual(plain);
      }),
      { numRuns: 15, seed: 20_240_611 },
    );
  }, 60_000);

  it("holds the days that were written", async () => {
    const table: Table = {
      header: HEADER,
      rows: [["K1", "P1", { day: "2020-02-29" }, null, 27.8, 66, "left", true, "north"]],
    };
    for (const content of [csvText(table), workbook(table), await parquet(table, TYPES)]) {
      const { columns } = await read(content);
      expect(columns.map(({ present }) => present[0])).toEqual([
        "K1",
        "P1",
        dayNumber("2020-02-29"),
        null,
        27.8,
        66,
        0,
        0,
        0,
      ]);
    }
  });
});
