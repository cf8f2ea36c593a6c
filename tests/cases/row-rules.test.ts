import { describe, expect, it } from "vitest";
import { checkCases } from "../../src/cases/check-cases.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { descriptor, writeExport } from "./export-file.ts";
import { briefly, type Cells, ruleFindings } from "./rule-exports.ts";

const ROOT = new URL("../../", import.meta.url).pathname;

/** Each rule at its threshold: the row on the right side of it, then the one on the wrong side. */
const THRESHOLDS: readonly (readonly [string, Cells, Cells])[] = [
  [
    "warning revision-after-emigration revised",
    { operated: "2015-01-05", emigrated: "2016-01-01", revised: "2016-01-01", reason: "infection" },
    { operated: "2015-01-05", emigrated: "2016-01-01", revised: "2016-01-02", reason: "infection" },
  ],
  [
    "warning death-before-radiograph died",
    { operated: "2015-01-05", died: "2016-01-01", taken: "2016-01-01", seen: "" },
    { operated: "2015-01-05", died: "2016-01-01", taken: "2016-01-02", seen: "" },
  ],
  ["error operation-date-impossible operated", { operated: "1950-01-01" }, { operated: "1949-12-31" }],
  [
    "error interval-impossible seen",
    // 60 years are 21,915 days.
    { operated: "1960-01-01", seen: "2020-01-01" },
    { operated: "1960-01-01", seen: "2020-01-02" },
  ],
  [
    "error age-at-end-impossible died",
    { operated: "2000-01-01", age: "100", died: "2020-01-01" },
    { operated: "2000-01-01", age: "100", died: "2020-01-02" },
  ],
  [
    "error side-of-revision-conflicts revised_side",
    { side: "right", revised_side: "Right", revised: "2017-01-01", reason: "infection" },
    { side: "right", revised_side: "Left", revised: "2017-01-01", reason: "infection" },
  ],
  [
    "warning component-without-loosening component",
    { operated: "2015-01-05", revised: "2016-01-02", reason: "loosening", component: "tibia" },
    { operated: "2015-01-05", revised: "2016-01-02", reason: "infection", component: "tibia" },
  ],
  [
    "warning step-recorded-before-operation tourniquet_noted",
    { operated: "2015-01-05", tourniquet: "yes", tourniquet_noted: "2015-01-05" },
    { operated: "2015-01-05", tourniquet: "yes", tourniquet_noted: "2015-01-04" },
  ],
  [
    "warning step-done-where-it-cannot-apply drilling",
    { sclerosis: "mild", drilling: "yes" },
    { sclerosis: "none", drilling: "yes" },
  ],
  [
    "warning step-not-applicable-where-it-applies drilling",
    { sclerosis: "none", drilling: "na" },
    { sclerosis: "mild", drilling: "na" },
  ],
  [
    "warning step-done-where-it-cannot-apply mixing",
    { fixation: "cemented", mixing: "vacuum" },
    { fixation: "press", mixing: "vacuum" },
  ],
];

describe("checkCases() on the fields of one row", () => {
  it.each(THRESHOLDS)("%s: on the wrong side of the threshold alone", async (finding, right, wrong) => {
    // Another case holds a loosening, so that the list of reasons can say it.
    const other = { operated: "2015-01-06", revised: "2016-01-04", reason: "loosening" };
    expect(briefly(await ruleFindings([other, right, wrong]))).toEqual([`${finding} 3`]);
  });

  it("says nothing of drilling where sclerosis, or the step, is not recorded", async () => {
    const rows = [{ drilling: "yes" }, { sclerosis: "none" }, { sclerosis: "none", drilling: "no" }];
    expect(briefly(await ruleFindings(rows))).toEqual([]);
  });

  it("reports the revision of a knee that was never operated", async () => {
    const rows = [{ operated: "", revised: "2016-01-01", reason: "infection" }];
    expect(briefly(await ruleFindings(rows))).toEqual([
      "error operation-date-missing operated 1",
      "error revision-without-operation revised 1",
    ]);
  });

  it.each([
    ["d", "21915", "21916"],
    ["mo", "720", "721"],
    ["a", "60", "60.1"],
  ])("refuses more than 60 years of follow-up in %s", async (unit, most, more) => {
    const fields = [
      { name: "case", type: "string", role: "caseId" },
      { name: "time", type: "number", role: "followUpTime", unit },
      { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
    ];
    const csv = `case,time,status\nA,${most},0\nB,${more},0\n`;
    const findings = checkCases(await readCases(writeExport(csv, descriptor(fields))));
    expect(briefly(findings)).toEqual(["error follow-up-impossible time 2"]);
  });

  it.each(["data/demo", "data/mgus2"])("raises no false alarm on %s", async (folder) => {
    const findings = checkCases(await readCases(`${ROOT}${folder}/datapackage.json`));
    const codes = findings.groups.map(({ code }) => code);
    // Planted in the invented export on purpose.
    expect(codes.filter((code) => code !== "step-recorded-after-revision")).toEqual([]);
    expect(findings.errors).toBe(0);
  });
});
