import { describe, expect, it } from "vitest";
import { joinFindings } from "../../src/base/finding-log.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { DATED_FIELDS, datedCsv, descriptor, type Json, writeExport } from "./export-file.ts";

async function check(csv: string, fields: readonly Json[] = DATED_FIELDS, study: Json = {}) {
  const cases = await readCases(writeExport(csv, descriptor(fields, {}, study)));
  return joinFindings(cases.findings, checkCases(cases));
}

/** "severity code field row" of every example kept. */
function lines(findings: Awaited<ReturnType<typeof check>>): string[] {
  return findings.groups.flatMap(({ severity, code, field, first }) =>
    first.map(({ row, line }) => {
      expect(line).toBe((row ?? 0) + 1);
      return `${severity} ${code} ${field} ${row}`;
    }),
  );
}

describe("checkCases() on dates", () => {
  it("finds nothing in sound cases, the same day included", async () => {
    const oneDay = {
      operated: "2015-01-05",
      revised: "2015-01-05",
      died: "2015-01-05",
      seen: "2015-01-05",
      reason: "infection",
    };
    const csv = datedCsv({}, oneDay, { entered: "2015-01-01", tourniquet_noted: "2015-01-05" });
    expect(lines(await check(csv, DATED_FIELDS, { dataCut: "2020-06-30" }))).toEqual([]);
  });

  it("reports each order that cannot be, at the later field, and no other row", async () => {
    const csv = datedCsv(
      {},
      { revised: "2015-01-04", reason: "loosening" },
      { died: "2015-01-04", seen: "" },
      { emigrated: "2015-01-04" },
      { seen: "2015-01-04" },
      { revised: "2016-03-02", reason: "loosening", died: "2016-03-01", seen: "" },
    );
    expect(lines(await check(csv))).toEqual([
      "error revision-before-operation revised 2",
      "error death-before-operation died 3",
      "error emigration-before-operation emigrated 4",
      "error last-contact-before-operation seen 5",
      "error death-before-revision died 6",
    ]);
  });

  it("warns of orders that are possible but need a look", async () => {
    const csv = datedCsv(
      { seen: "2016-01-01", revised: "2016-01-02", reason: "loosening" },
      { died: "2016-01-01", seen: "2016-01-02" },
      { entered: "2016-01-02", revised: "2016-01-01", reason: "loosening" },
      { entered: "2016-01-02", died: "2016-01-01", seen: "" },
      { entered: "2020-07-01" },
    );
    expect(lines(await check(csv))).toEqual([
      "warning last-contact-before-revision seen 1",
      "warning death-before-last-contact died 2",
      "warning entry-after-revision revised 3",
      "warning entry-after-death died 4",
      "warning entry-after-last-contact seen 5",
    ]);
  });

  it("reports every date after the data cut, and none on it", async () => {
    const cut = "2020-06-30";
    const late = "2020-07-01";
    const csv = datedCsv(
      { seen: cut },
      { operated: late, seen: "" },
      { entered: late, seen: "" },
      { revised: late, reason: "infection", seen: "" },
      { died: late },
      { emigrated: late },
      { seen: late },
    );
    expect(lines(await check(csv, DATED_FIELDS, { dataCut: cut }))).toEqual([
      "error date-after-data-cut operated 2",
      "error date-after-data-cut entered 3",
      "error date-after-data-cut revised 4",
      "error date-after-data-cut died 5",
      "error date-after-data-cut emigrated 6",
      "error date-after-data-cut seen 7",
    ]);
    expect(lines(await check(csv))).toEqual([]);
  });

  it("reports a missing operation date as an error and a missing patient as a warning", async () => {
    expect(lines(await check(datedCsv({ operated: "" }, { patient: "" })))).toEqual([
      "error operation-date-missing operated 1",
      "warning patient-missing patient 2",
    ]);
  });

  it("does not call a date missing that could not be read", async () => {
    const csv = datedCsv({ operated: "05/01/2015" }, { revised: "2016-02-30", reason: "loosening" });
    expect(lines(await check(csv))).toEqual([
      "error value-not-a-date operated 1",
      "error value-not-a-date revised 2",
    ]);
  });
});

describe("checkCases() on revisions and steps", () => {
  it("refuses a reason without a date and warns of a date without a reason", async () => {
    const csv = datedCsv(
      { reason: "infection" },
      { revised: "2016-01-01" },
      { reason: "none" },
      { component: "tibia" },
    );
    expect(lines(await check(csv))).toEqual([
      "error reason-without-revision-date reason 1",
      "warning revision-without-reason reason 2",
      "warning component-without-revision-date component 4",
    ]);
  });

  it("warns of a step recorded after the revision, not on its day", async () => {
    const revised = { revised: "2016-01-01", reason: "loosening" };
    const csv = datedCsv(
      { ...revised, tourniquet_noted: "2016-01-01" },
      { ...revised, tourniquet_noted: "2016-01-02" },
    );
    expect(lines(await check(csv))).toEqual(["warning step-recorded-after-revision tourniquet_noted 2"]);
  });
});

describe("checkCases() on values", () => {
  it("refuses impossible values and warns of unusual ones, each once", async () => {
    const csv = datedCsv(
      ...["-1", "0", "17.9", "18", "105", "105.1", "120", "121"].map((age) => ({ age })),
      ...["7.9", "8", "11.9", "12", "70", "70.1", "120", "120.1"].map((bmi) => ({ bmi })),
      ...["0", "1", "6", "7"].map((asa) => ({ asa })),
    );
    const findings = await check(csv);
    const rows = (code: string) => findings.groups.find((group) => group.code === code)?.count;
    expect(lines(findings)).toEqual([
      // 120 years at the operation, and seen five years later.
      "error age-at-end-impossible seen 7",
      "error age-impossible age 1",
      "error age-impossible age 8",
      "error bmi-impossible bmi 9",
      "error bmi-impossible bmi 16",
      "error asa-grade-impossible asa 17",
      "error asa-grade-impossible asa 20",
      "warning age-unusual age 2",
      "warning age-unusual age 3",
      "warning age-unusual age 6",
      "warning bmi-unusual bmi 10",
      "warning bmi-unusual bmi 11",
      "warning bmi-unusual bmi 14",
    ]);
    expect(rows("age-unusual")).toBe(4);
    expect(rows("bmi-unusual")).toBe(4);
  });
});

describe("checkCases() on repeated rows", () => {
  it("tells a copy from a conflict and leaves both knees of a patient alone", async () => {
    const csv = datedCsv(
      { case: "A", patient: "P" },
      { case: "B", patient: "P", side: "left" },
      { case: "A", patient: "P" },
      { case: "B", patient: "P", side: "left", bmi: "30" },
    );
    const findings = await check(csv);
    expect(lines(findings)).toEqual(["error case-repeated case 3", "error case-conflicting case 4"]);
    expect(findings.groups[0]?.first[0]?.details).toEqual({ firstRow: 1 });
  });

  it("reports a knee that was operated for the first time twice", async () => {
    const csv = datedCsv(
      { patient: "P" },
      { patient: "P", side: "left" },
      { patient: "P" },
      { patient: "Q" },
    );
    expect(lines(await check(csv))).toEqual(["error knee-repeated patient 3"]);
  });

  it("does not take rows without patient or side for one knee", async () => {
    const csv = datedCsv(
      { patient: "P", side: "" },
      { patient: "P", side: "" },
      { patient: "" },
      { patient: "" },
    );
    expect(lines(await check(csv))).toEqual([
      "warning patient-missing patient 3",
      "warning patient-missing patient 4",
      "warning side-unknown-of-two-knees side 2",
    ]);
  });
});

describe("checkCases() on durations", () => {
  const fields = [
    { name: "case", type: "string", role: "caseId" },
    { name: "months", type: "number", role: "followUpTime", unit: "mo" },
    {
      name: "status",
      type: "integer",
      role: "status",
      categories: [
        { value: 0, outcome: "censored" },
        { value: 1, outcome: "revised" },
      ],
    },
  ];

  it("needs a duration that is not below zero and a status on every row", async () => {
    const findings = await check("case,months,status\nA,0,1\nB,12.5,0\nC,-1,0\nD,,1\nE,3,\n", fields);
    expect(lines(findings)).toEqual([
      "error follow-up-missing months 4",
      "error status-missing status 5",
      "error follow-up-negative months 3",
    ]);
  });

  it("asks nothing of dates that such an export does not have", async () => {
    expect(lines(await check("case,months,status\nA,1,1\n", fields, { dataCut: "2020-01-01" }))).toEqual([]);
  });
});
