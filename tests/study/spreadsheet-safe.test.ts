import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Cases } from "../../src/cases/cases.ts";
import { pseudonymiser } from "../../src/cases/pseudonym.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { pseudonymise } from "../../src/study/pseudonymised/pseudonymise.ts";
import { syntheticExport } from "../../src/synthetic/synthetic-export.ts";
import { descriptor, type Json, writeExport } from "../cases/export-file.ts";

const KEY = pseudonymiser(Buffer.from("0123456789abcdef0123456789abcdef"));
const SIGNS = ["-", "+", "=both", "@home", "'+", "plain"];
const FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "days", type: "number", role: "followUpTime", unit: "d" },
  { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
  { name: "=sign", type: "string", categories: SIGNS.map((value) => ({ value })) },
  { name: "note", type: "string" },
  { name: "axis", type: "number", decimalChar: ",", missingValues: ["", { value: "--", label: "unknown" }] },
];

const word = fc.string({
  unit: fc.constantFrom("=", "+", "-", "@", "'", '"', ",", "\t", "\n", "7", "a", " ", "ø"),
  minLength: 1,
  maxLength: 10,
});
const row = fc.record({
  sign: fc.constantFrom(...SIGNS),
  note: word,
  axis: fc.oneof(
    fc.constant("--"),
    fc.integer({ min: -90, max: 90 }).map(String),
    fc.integer({ min: -90, max: -1 }).map((whole) => `${whole},5`),
  ),
});

const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;

async function pseudonymised(path: string): Promise<{ readonly text: string; readonly cases: Cases }> {
  const { files } = await pseudonymise(path, KEY, { drop: [], replace: [], dates: "follow-up" });
  const folder = mkdtempSync(join(dirname(path), "made-"));
  for (const [name, content] of files) {
    writeFileSync(join(folder, name), typeof content === "string" ? content : [...content].join(""));
  }
  return {
    text: readFileSync(join(folder, "cases.csv"), "utf8"),
    cases: await readCases(join(folder, "datapackage.json")),
  };
}

/** Values as words: what a column means, whatever order its codes were met in. */
function meant(cases: Cases, name: string): string[] {
  const column = cases.columns.get(name);
  if (column === undefined) throw new Error(`no column ${name}`);
  return Array.from({ length: cases.rows }, (_, at) => {
    const reason = column.missing[at] ?? 0;
    if (reason > 0) return `missing: ${column.missingReasons[reason - 1]}`;
    return column.kind === "code"
      ? (column.codes[column.values[at] ?? 0] ?? "")
      : String(column.values[at] ?? "");
  });
}

/** A twin: the fields of a table in the grammar of RFC 4180. */
function fieldsOf(text: string): string[] {
  return [...text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\n]*))(?:,|\n)/g)].map(([, inQuotes, plain]) =>
    inQuotes === undefined ? (plain ?? "") : inQuotes.replaceAll('""', '"'),
  );
}

const wouldRun = (field: string) => /^[=+\-@\t\r]/.test(field) && !/^-?\d+([.,]\d+)?$/.test(field);

describe("a pseudonymised table", () => {
  it("holds no cell that a spreadsheet would run, keeps negative numbers, and reads back equal", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(row, { minLength: 1, maxLength: 8 }), async (rows) => {
        const lines = rows.map(({ sign, note, axis }, at) =>
          [`K${at}`, "10", "0", sign, note, axis].map(quoted).join(","),
        );
        const header = FIELDS.map(({ name }) => quoted(String(name))).join(",");
        const path = writeExport(`${[header, ...lines].join("\n")}\n`, descriptor(FIELDS));
        const before = await readCases(path);
        const { text, cases } = await pseudonymised(path);
        for (const name of ["=sign", "note", "axis"]) {
          expect(meant(cases, name)).toEqual(meant(before, name));
        }
        const fields = fieldsOf(text);
        expect(fields.filter(wouldRun)).toEqual([]);
        for (const { axis } of rows) expect(fields).toContain(axis === "--" ? "'--" : axis);
      }),
      { seed: 20_241_231, numRuns: 60 },
    );
  });

  it("reads an export with the mark of the guard, and one without it as it stands", async () => {
    const content = "case,days,status,=sign,note,axis\nK1,10,0,'+,'=1,'--\n".replace("=sign", "'=sign");
    const guarded = await readCases(writeExport(content, descriptor(FIELDS, { textGuard: "apostrophe" })));
    expect(["=sign", "note", "axis"].map((name) => meant(guarded, name)[0])).toEqual([
      "+",
      "=1",
      "missing: unknown",
    ]);
    const plain = FIELDS.map((field) => (field.name === "=sign" ? { ...field, name: "'=sign" } : field));
    const asIs = await readCases(writeExport(content, descriptor(plain)));
    expect(meant(asIs, "'=sign")[0]).toBe("'+");
    expect(meant(asIs, "note")[0]).toBe("'=1");
  });
});

describe("an invented export", () => {
  it("holds no text that a spreadsheet would run", () => {
    const text = [...syntheticExport({ knees: 400, seed: 8 }).csvChunks()].join("");
    expect(text.split(/[,\n]/).filter(wouldRun)).toEqual([]);
  });
});
