import { describe, expect, it } from "vitest";
import { curveTable, flowTable, yearTable } from "../../src/report/index.ts";
import { cleared, hiddenCell, sampleCurves } from "./sample-curves.ts";
import { sampleFlow } from "./sample-flow.ts";

describe("yearTable()", () => {
  const table = yearTable(sampleCurves);
  const rowsOf = (group: string) => {
    const from = table.rows.findIndex(({ label, heading }) => heading && label === group);
    return table.rows.slice(from + 1, from + 1 + sampleCurves.years.length);
  };

  it("has every group and every year, with the numbers under the figure", () => {
    expect(table.rows.filter(({ heading }) => heading).map(({ label }) => label)).toEqual(
      sampleCurves.landmarks.map(({ label }) => label),
    );
    const rows = rowsOf("no tourniquet");
    expect(rows.map(({ label }) => label)).toEqual([
      "0 years",
      "1 year",
      "3 years",
      "5 years",
      "10 years",
      "15 years",
    ]);
    expect(rows[4]?.cells.map(({ text }) => text)).toEqual([
      "20.9 (10.6 to 31.2)",
      "377",
      "58",
      "366",
      "3301",
    ]);
  });

  it("has no value beyond the end of a curve, and leaves hidden numbers hidden", () => {
    const rows = rowsOf("tourniquet for cementing only");
    expect(rows.map(({ cells }) => cells[0]?.text).slice(-2)).toEqual(["not drawn", "not drawn"]);
    expect(rows[1]?.cells[2]).toBe(hiddenCell);
  });

  it("carries the printed numbers on the printed scale", () => {
    expect(rowsOf("no tourniquet")[4]?.cells[0]?.values).toEqual([20.9, 10.6, 31.2]);
  });

  it("has no column for competing outcomes where the exhibit has none", () => {
    const landmarks = sampleCurves.landmarks.map(({ competing: _, ...row }) => row);
    const net = yearTable(cleared({ ...sampleCurves, risk: "net", landmarks }));
    expect(net.columns.map(({ id }) => id)).toEqual(["year", "value", "atRisk", "events", "censored"]);
    expect(net.columns[1]?.label).toBe("Share of knees, % (limits)");
  });
});

describe("curveTable()", () => {
  it("gives joined points one time each, because nothing is known between two", () => {
    const { columns, rows } = curveTable(cleared({ ...sampleCurves, drawing: "joined points" }));
    expect(columns.map(({ id }) => id)).toEqual(["group", "at", "value", "low", "high"]);
    for (const { cells } of rows) expect(cells).toHaveLength(columns.length - 1);
  });

  it("has one row a step; each ends where the next begins", () => {
    const { rows } = curveTable(sampleCurves);
    expect(rows).toHaveLength(sampleCurves.curves.reduce((sum, { time }) => sum + time.length, 0));
    const own = rows.filter(({ label }) => label === "no tourniquet");
    for (const [at, row] of own.entries()) {
      const next = own[at + 1];
      if (next !== undefined) expect(row.cells[1]?.values).toEqual(next.cells[0]?.values);
    }
  });
});

describe("flowTable()", () => {
  it("keeps every number of the flow, and a dash where persons were not counted", () => {
    const { rows } = flowTable(sampleFlow);
    expect(rows.map(({ label }) => label).slice(4, 8)).toEqual([
      "osteoarthritis or inflammatory arthritis",
      "taken out: tourniquet: not recorded",
      "taken out: tourniquet: not applicable",
      "compared",
    ]);
    expect(rows[6]?.cells.map(({ text }) => text)).toEqual(["under 5", "–"]);
    expect(rows.at(-1)?.label).toBe("group: tourniquet for cementing only");
  });
});
