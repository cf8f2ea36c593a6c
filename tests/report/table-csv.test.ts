import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ClearedCell, ClearedTable } from "../../src/disclosure/cleared.ts";
import { curveTable } from "../../src/report/curve-table.ts";
import { tableCsv } from "../../src/report/index.ts";
import { cleared, hiddenCell, numberCell, sampleCurves, textCell } from "./sample-curves.ts";
import { sampleTable } from "./sample-table.ts";

/** A twin: the grammar of RFC 4180 as one regular expression, without any of the writer's code. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [[]];
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/g)) {
    rows.at(-1)?.push(quoted === undefined ? (plain ?? "") : quoted.replaceAll('""', '"'));
    if (end === "\r\n") rows.push([]);
  }
  return rows.slice(0, -1);
}

function tableOf(...cells: ClearedCell[]): ReturnType<typeof cleared<ClearedTable>> {
  const rows = cells.map((cell) => ({ label: "row", heading: false, indent: 0, cells: [cell] }));
  const columns = sampleTable.columns
    .slice(0, 2)
    .map((column, at) => ({ ...column, label: ["name", "value"][at] ?? "" }));
  return cleared({ ...sampleTable, columns, rows });
}
const valuesOf = (...cells: ClearedCell[]) =>
  readCsv(tableCsv(tableOf(...cells)))
    .slice(1)
    .map((row) => row[1]);

describe("tableCsv()", () => {
  it("ends every line as RFC 4180 asks and gives every row as many fields as the header", () => {
    const csv = tableCsv(sampleTable);
    expect(csv.endsWith("\r\n")).toBe(true);
    const rows = readCsv(csv);
    expect(rows).toHaveLength(1 + sampleTable.rows.length);
    expect(new Set(rows.map((row) => row.length)).size).toBe(1);
  });

  it("writes numbers in plain form: point, no thin space, hyphen for minus", () => {
    expect(valuesOf(numberCell("12\u202f840", 12840), numberCell("−0.12", -0.12))).toEqual([
      "12840",
      "-0.12",
    ]);
  });

  it("keeps a negative number a number, in a number cell and as text", () => {
    // −5 degrees is hyperextension; three values that must come back as numbers.
    expect(valuesOf(...[-5, -10, -0.5].map((value) => numberCell(String(value), value)))).toEqual([
      "-5",
      "-10",
      "-0.5",
    ]);
    expect(valuesOf(textCell("-5"))).toEqual(["-5"]);
  });

  it.each(["=1+1", "+SUM(A1:A2)", "-2+3", "@ref", "\tTab", "\rReturn", '=HYPERLINK("x")'])(
    "makes text harmless that a spreadsheet would run: %j",
    (text) => {
      expect(valuesOf(textCell(text))).toEqual([`'${text}`]);
    },
  );

  it("adds no second apostrophe on a second way through", () => {
    const [once = ""] = valuesOf(textCell("=1+1"));
    expect(valuesOf(textCell(once))).toEqual([once]);
    expect(valuesOf(textCell("Plain - Site"))).toEqual(["Plain - Site"]);
  });

  it("gives each number of a cell a column of its own, after the printed text", () => {
    const rows = readCsv(tableCsv(tableOf(numberCell("2.4 (1.1 to 3.9)", 2.4, 1.1, 3.9), hiddenCell)));
    expect(rows).toEqual([
      ["name", "value", "value: number 1", "value: number 2", "value: number 3"],
      ["row", "2.4 (1.1 to 3.9)", "2.4", "1.1", "3.9"],
      ["row", "under 5", "", "", ""],
    ]);
  });

  it("keeps a hidden cell the words it was replaced by", () => {
    expect(valuesOf(numberCell("7", 7), hiddenCell)).toEqual(["7", "under 5"]);
  });

  it("notes on every row that the data are invented, in a last column", () => {
    const rows = readCsv(tableCsv(sampleTable, { stamp: "INVENTED DATA" }));
    expect(rows[0]?.at(-1)).toBe("data note");
    expect(rows.slice(1).map((row) => row.at(-1))).toEqual(sampleTable.rows.map(() => "INVENTED DATA"));
    expect(tableCsv(sampleTable)).not.toContain("data note");
  });

  it("reads back equal, whatever the words and numbers (seeded)", () => {
    const cell = fc.oneof(
      fc.string({ unit: "grapheme" }).map((text) => textCell(text)),
      fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => numberCell("n", value)),
    );
    fc.assert(
      fc.property(fc.array(cell, { minLength: 1, maxLength: 8 }), (cells) => {
        const back = valuesOf(...cells);
        for (const [at, { text, values }] of cells.entries()) {
          const [value] = values;
          if (value === undefined) expect([text, `'${text}`]).toContain(back[at]);
          // Zero has no sign in a file.
          else expect(Number(back[at]) + 0).toBe(value + 0);
        }
      }),
      { seed: 20240917, numRuns: 200 },
    );
  });

  it("writes the steps of a curve as numbers that read back equal", () => {
    const table = curveTable(sampleCurves);
    const [header = [], ...rows] = readCsv(tableCsv(table));
    expect(header).toEqual([
      "Group",
      "From (days)",
      "To (days)",
      "Share of knees, from 0 to 1",
      "Lower limit",
      "Upper limit",
    ]);
    const curve = sampleCurves.curves[0];
    const own = rows.filter(([group]) => group === curve?.label);
    expect(own.map((row) => Number(row[1]))).toEqual(curve?.time);
    expect(own.map((row) => Number(row[3]))).toEqual(curve?.value);
    expect(own.at(-1)?.[2]).toBe(String(curve?.drawnTo));
    expect(own[0]?.slice(4)).toEqual(["none", "none"]);
  });
});
