import { DuckDBInstance } from "@duckdb/node-api";
import { describe, expect, it } from "vitest";
import { type CountsSqlOptions, countsSql } from "../../src/cases/counts-sql.ts";

const CAUSES = [
  { label: "loosening", column: "loosenings" },
  { label: "death", column: "deaths" },
];

async function counted(values: string, names: string, options: Partial<CountsSqlOptions> = {}) {
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  try {
    const from = `(SELECT * FROM (VALUES ${values}) AS v(${names}))`;
    const columns = { exit: "days", cause: "ended_by", group: "technique" };
    const sql = countsSql({ from, columns, causes: CAUSES, ...options });
    const rows = (await connection.runAndReadAll(sql)).getRowsJson();
    return rows.map((row) => row.join(" "));
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

describe("countsSql()", () => {
  it("counts by hand-checked example: events first, censorings after them (closed form)", async () => {
    const values =
      "('a', 1, 'loosening'), ('a', 2, 'death'), ('a', 2, NULL), ('a', 5, NULL), ('b', 0, 'loosening')";
    expect(await counted(values, "technique, days, ended_by")).toEqual([
      "a 1 4 1 0 0 0",
      "a 2 3 0 1 1 0",
      "a 5 1 0 0 1 0",
      "b 0 1 1 0 0 0",
    ]);
  });

  it("puts entries after the events of their tick, by stratum (closed form)", async () => {
    const values =
      "('a', 'x', 6, NULL, NULL), ('a', 'x', 9, 'death', 3), ('a', 'x', 3, 'loosening', NULL), ('a', 'y', 2, NULL, NULL)";
    const columns = {
      exit: "days",
      cause: "ended_by",
      group: "technique",
      stratum: "place",
      entry: "seen_from",
    };
    expect(await counted(values, "technique, place, days, ended_by, seen_from", { columns })).toEqual([
      "a x 3 2 1 0 0 1",
      "a x 6 2 0 0 1 0",
      "a x 9 1 0 1 0 0",
      "a y 2 1 0 0 1 0",
    ]);
  });

  it("ends month 12 with the last day of the first year, and begins month 13 with the next (closed form)", async () => {
    // 365.25 days a year: day 365 lies in year 1, day 366 does not; 1461 days are 48 months exactly.
    const values = [0, 1, 30, 31, 365, 366, 1461, 1462].map((day) => `('a', ${day}, 'death')`).join(", ");
    const rows = await counted(values, "technique, days, ended_by", { monthsFromDays: true });
    expect(rows.map((row) => row.split(" ")[1])).toEqual(["0", "1", "2", "12", "13", "48", "49"]);
    expect(rows[1]).toBe("a 1 7 0 2 0 0");
  });

  it("takes nobody's time away in months: entry goes down and exit up", async () => {
    const columns = { exit: "days", cause: "ended_by", group: "technique", entry: "seen_from" };
    const rows = await counted("('a', 12, NULL, 5)", "technique, days, ended_by, seen_from", {
      columns,
      monthsFromDays: true,
    });
    expect(rows).toEqual(["a 0 0 0 0 0 1", "a 1 1 0 0 1 0"]);
  });

  it("leaves a row of a cause nobody named at risk, where the check of counts finds it", async () => {
    expect(await counted("('a', 1, 'infection'), ('a', 2, NULL)", "technique, days, ended_by")).toEqual([
      "a 1 2 0 0 0 0",
      "a 2 1 0 0 1 0",
    ]);
  });

  it("quotes names and labels, reserved words and quotes among them", async () => {
    const rows = await counted(`('a', 1, 'surgeon''s choice')`, `"group", "the ""time""", "select"`, {
      columns: { exit: 'the "time"', cause: "select", group: "group" },
      causes: [{ label: "surgeon's choice", column: 'own "name"' }],
    });
    expect(rows).toEqual(["a 1 1 1 0 0"]);
  });

  it("needs a cause", () => {
    const columns = { exit: "days", cause: "ended_by", group: "technique" };
    expect(() => countsSql({ from: "t", columns, causes: [] })).toThrow("at least one cause");
  });
});
