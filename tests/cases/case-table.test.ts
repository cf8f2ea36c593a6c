import { op } from "arquero";
import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { caseRows, caseTable, rowsWhere } from "../../src/cases/case-table.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { DATED_FIELDS, datedCsv, descriptor, writeExport } from "./export-file.ts";

async function threeCases() {
  const csv = datedCsv(
    { bmi: "30" },
    { revised: "2016-02-29", reason: "infection", bmi: "" },
    { side: "left", bmi: "20" },
  );
  return readCases(writeExport(csv, descriptor(DATED_FIELDS)));
}

describe("caseTable()", () => {
  it("gives every field as a column: dates as ISO text, codes as words, missing as null", async () => {
    const cases = await threeCases();
    const table = caseTable(cases);
    expect(table.columnNames()).toEqual(DATED_FIELDS.map(({ name }) => name));
    expect(Array.from(table.array("revised"))).toEqual([null, "2016-02-29", null]);
    expect(Array.from(table.array("reason"))).toEqual([null, "infection", null]);
    expect(Array.from(table.array("bmi"))).toEqual([30, null, 20]);
    expect(Array.from(table.array("case"))).toEqual(["K0001", "K0002", "K0003"]);
  });

  it("leaves the missing out of arquero's own means", async () => {
    const summary = caseTable(await threeCases()).rollup({ mean: op.mean("bmi"), valid: op.valid("bmi") });
    // closed form: (30 + 20) / 2 of two present values
    expect(summary.objects()).toEqual([{ mean: 25, valid: 2 }]);
  });
});

describe("rowsWhere()", () => {
  it("keeps the rows that meet the condition, in their order", async () => {
    const kept = rowsWhere(caseTable(await threeCases()), (row) => row.side === "right");
    expect(Array.from(kept.array("case"))).toEqual(["K0001", "K0002"]);
    expect(kept.columnNames()).toHaveLength(DATED_FIELDS.length);
    expect(rowsWhere(kept, () => false).numRows()).toBe(0);
  });

  it("sees the rows of a table that was filtered or ordered before", async () => {
    const ordered = caseTable(await threeCases())
      .filter("d.bmi !== null")
      .orderby("bmi");
    expect([...caseRows(ordered)].map((row) => row.bmi)).toEqual([20, 30]);
    expect(Array.from(rowsWhere(ordered, (row) => Number(row.bmi) < 25).array("case"))).toEqual(["K0003"]);
  });

  it("refuses a misspelt column, where a plain filter would quietly find nothing", async () => {
    const table = caseTable(await threeCases());
    expect(() => rowsWhere(table, (row) => row.syde === "right")).toThrow(ArgumentError);
    expect(() => rowsWhere(table, (row) => row.syde === "right")).toThrow(
      /no column "syde"; accepted: case, patient/,
    );
  });
});
