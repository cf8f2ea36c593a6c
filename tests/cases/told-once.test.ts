import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { joinFindings } from "../../src/base/finding-log.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { descriptor, type Json, writeExport } from "./export-file.ts";

const STATUS = {
  name: "status",
  type: "string",
  role: "status",
  categories: [{ value: "0", outcome: "censored" }],
};

/** Severity, code and row of everything found in one column of values, from reading to the last rule. */
async function toldOf(field: Json, values: readonly number[]): Promise<string[]> {
  const fields = [
    { name: "case", type: "string", role: "caseId" },
    { name: "time", type: "number", role: "followUpTime", unit: "d" },
    STATUS,
    { name: "x", type: "number", ...field },
  ];
  const rows = values.map((value, row) => `K${row},1,0,${value}\n`);
  const cases = await readCases(writeExport(`case,time,status,x\n${rows.join("")}`, descriptor(fields)));
  const { groups } = joinFindings(cases.findings, checkCases(cases));
  return groups.flatMap(({ code, severity, first }) => first.map(({ row }) => `${severity} ${code} ${row}`));
}

const AGE = { role: "ageYears", constraints: { minimum: 18, maximum: 110 } };

describe("one value that cannot be", () => {
  it("is told once, by what says most: another unit, else the dictionary's limits, else what can be at all", async () => {
    expect(await toldOf(AGE, [70, 750, 7, 115, 125])).toEqual([
      "error value-below-minimum 3",
      "error value-above-maximum 4",
      "error value-above-maximum 5",
      "error value-in-other-unit 2",
    ]);
    expect(await toldOf({ role: "ageYears" }, [70, 750, 7, 115, 125])).toEqual([
      "error value-in-other-unit 2",
      "error age-impossible 5",
      "warning age-unusual 3",
      "warning age-unusual 4",
    ]);
  });

  it("stays a warning in another unit where nothing says that it cannot be", async () => {
    expect(await toldOf({ unit: "kg" }, [70, 80_000, 90])).toEqual(["warning value-in-other-unit 2"]);
    const limited = { unit: "kg", constraints: { maximum: 300 } };
    expect(await toldOf(limited, [70, 80_000, 90])).toEqual(["error value-in-other-unit 2"]);
  });

  it("is not told row by row besides where the whole column is in another unit", async () => {
    expect(await toldOf(AGE, [700, 800, 900, 70])).toEqual(["error column-in-other-unit undefined"]);
  });

  it("loses no value: whatever broke a limit or a rule is told exactly once (twin over the value alone)", async () => {
    const age = fc.integer({ min: -50, max: 2200 });
    await fc.assert(
      fc.asyncProperty(fc.array(age, { minLength: 3, maxLength: 3 }), async (drawn) => {
        // Three plain ages besides keep the column in years.
        const told = await toldOf(AGE, [...drawn, 60, 61, 62, 63]);
        const rows = told.map((line) => Number(line.split(" ")[2]));
        const odd = drawn.flatMap((value, at) => (value < 18 || value > 105 ? [at + 1] : []));
        expect(rows.sort()).toEqual(odd);
      }),
      { numRuns: 40 },
    );
  });
});
