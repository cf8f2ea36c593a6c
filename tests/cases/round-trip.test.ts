import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { byteScan } from "../../src/cases/byte-scan.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { descriptor, writeExport } from "./export-file.ts";

const FIELDS = [
  { name: "case", type: "string", role: "caseId" },
  { name: "patient", type: "string", role: "patientId" },
  { name: "time", type: "number", role: "followUpTime", unit: "d" },
  { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
];

const LINE_ENDS = ["\n", "\r\n", "\r"] as const;
const cell = fc.oneof(
  fc.string({ unit: "grapheme", maxLength: 20 }),
  fc.string({
    unit: fc.constantFrom("a", '"', "'", ",", ";", "\t", "|", "\n", "\r", " ", "ø", "𝛼"),
    maxLength: 30,
  }),
  fc.stringMatching(/^[0-9]{1,25}$/),
);
const table = fc.record({
  rows: fc.array(fc.record({ id: cell, patient: cell, quoteAll: fc.boolean() }), {
    minLength: 1,
    maxLength: 12,
  }),
  delimiter: fc.constantFrom(",", ";", "\t", "|"),
  quote: fc.constantFrom('"', "'"),
  lineEnds: fc.oneof(
    fc.constantFrom(...LINE_ENDS).map((end) => [end]),
    fc.array(fc.constantFrom(...LINE_ENDS), { minLength: 2, maxLength: 5 }),
  ),
  hasMark: fc.boolean(),
  endsOpen: fc.boolean(),
});

describe("a table written as CSV", () => {
  it("reads back equal, every record counted, for any delimiter, quoting and line ends", async () => {
    await fc.assert(
      fc.asyncProperty(table, async ({ rows, delimiter, quote, lineEnds, hasMark, endsOpen }) => {
        // A NUL byte is refused by the scan, and so cannot come back.
        const cells = rows.map(({ id, patient, quoteAll }, row) => ({
          texts: [`${id.replaceAll("\u0000", "")}#${row}`, patient.replaceAll("\u0000", ""), "1", "0"],
          quoteAll,
        }));
        const written = (text: string, always: boolean) =>
          always || [delimiter, quote, "\n", "\r"].some((mark) => text.includes(mark))
            ? quote + text.replaceAll(quote, quote + quote) + quote
            : text;
        const records = [
          FIELDS.map(({ name }) => name).join(delimiter),
          ...cells.map(({ texts, quoteAll }) => texts.map((text) => written(text, quoteAll)).join(delimiter)),
        ];
        const body = records.map((record, at) => {
          const isLast = at === records.length - 1;
          return record + (isLast && endsOpen ? "" : (lineEnds[at % lineEnds.length] ?? "\n"));
        });
        const content = (hasMark ? "\ufeff" : "") + body.join("");
        const path = writeExport(content, descriptor(FIELDS, { dialect: { delimiter, quoteChar: quote } }));
        const scan = byteScan(path.replace("datapackage.json", "cases.csv"), {
          delimiter,
          quote,
          chunkBytes: 16,
        });
        expect(scan.records).toBe(rows.length);
        const cases = await readCases(path);
        expect(cases.rows).toBe(rows.length);
        expect(cases.columns.get("case")?.values).toEqual(cells.map(({ texts }) => texts[0]));
        expect(cases.columns.get("patient")?.values).toEqual(cells.map(({ texts }) => texts[1]));
        expect(cases.findings.errors).toBe(0);
      }),
      { numRuns: 30, seed: 20_240_611 },
    );
  });

  it("of many records keeps their order", async () => {
    const count = 30_000;
    const lines = Array.from({ length: count }, (_, row) => `K${row},patient number ${row},${row},0`);
    const cases = await readCases(
      writeExport(`case,patient,time,status\n${lines.join("\n")}\n`, descriptor(FIELDS)),
    );
    expect(cases.rows).toBe(count);
    const times = cases.columns.get("time")?.values ?? [];
    const ids = cases.columns.get("case")?.values ?? [];
    const patients = cases.columns.get("patient")?.values ?? [];
    for (let row = 0; row < count; row += 1) {
      if (times[row] !== row || ids[row] !== `K${row}` || patients[row] !== `patient number ${row}`) {
        throw new Error(`row ${row} is out of place`);
      }
    }
  });
});
