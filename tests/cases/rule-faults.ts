import { descriptor, type Json } from "./export-file.ts";
import { type Cells, RULE_FIELDS, ruleCsv } from "./rule-exports.ts";

/** Exports that between them break every rule across fields and rows; `secret` stands wherever a text may. */
export function ruleFaults(
  secret: string,
): readonly { readonly content: string; readonly description: Json }[] {
  const described = { description: descriptor(RULE_FIELDS) };
  const loose = { revised: "2016-01-01", reason: "loosening" };
  const faulty: readonly Cells[] = [
    loose,
    { operated: "2015-01-05", emigrated: "2015-06-01", ...loose, reason: "infection", component: secret },
    { operated: "1940-01-01", seen: "2020-01-01", age: "70" },
    { operated: "2000-01-01", seen: "2020-01-02", age: "110" },
    { operated: "", ...loose },
    { died: "2016-01-01", taken: "2016-02-01" },
    { ...loose, side: "right", revised_side: "Left", tourniquet: "yes", tourniquet_noted: "2010-01-01" },
    { sclerosis: "none", drilling: "yes" },
    { sclerosis: "mild", drilling: "na" },
    { patient: secret, sex: "male", died: "2016-01-01", age: "60", ...loose },
    {
      patient: secret,
      side: "left",
      sex: "female",
      died: "2017-01-01",
      age: "80",
      ...loose,
      operated: "2016-06-01",
    },
    { patient: secret, side: "" },
    { patient: `${secret}2`, ...loose },
    { patient: `${secret}2`, operated: "2016-01-01" },
  ];
  const filled = Array.from({ length: 150 }, (_, at) => ({
    surgeon: at < 30 ? secret : "S2",
    centre: at < 30 ? secret : "C2",
    seen: "2020-05-01",
    bmi: at < 30 ? "" : "27",
    grade: at < 75 ? secret : "consultant",
  })).map((cells, at) => ({ ...cells, age: at < 60 ? String(25 + at) : String(50 + 5 * (at % 7)) }));
  const durations = [
    { name: "case", type: "string", role: "caseId" },
    { name: "years", type: "number", role: "followUpTime", unit: "a" },
    { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
  ];
  return [
    { content: ruleCsv(faulty), ...described },
    { content: ruleCsv(filled), ...described },
    {
      content: `case,operated,revised,seen,reasons\n${secret},2015-01-05,2016-01-02,2017-01-01,pain;infection\n`,
      description: descriptor([
        { name: "case", type: "string", role: "caseId" },
        { name: "operated", type: "date", role: "operationDate" },
        { name: "revised", type: "date", role: "revisionDate" },
        { name: "seen", type: "date", role: "lastFollowUpDate" },
        {
          name: "reasons",
          type: "list",
          delimiter: ";",
          role: "revisionReason",
          categories: [{ value: "pain" }, { value: "infection" }],
        },
      ]),
    },
    { content: `case,years,status\n${secret},61,0\n`, description: descriptor(durations) },
  ];
}

/** Exports that hold every kind of what tells who a person is. */
export function privacyFaults(
  secret: string,
): readonly { readonly content: string; readonly description: Json }[] {
  const columns: Readonly<Record<string, string>> = {
    surname: secret,
    mail: `${secret}@example.org`,
    call: "+44 20 7946 0000",
    post_code: secret,
    street: secret,
    remarks: secret,
    birth_date: secret,
    mrn: secret,
    lots: `${secret}@example.com`,
  };
  const fields = [
    { name: "case", type: "string", role: "caseId" },
    { name: "days", type: "number", role: "followUpTime", unit: "d" },
    { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
    { name: "sex", type: "string", role: "sex" },
    ...Object.keys(columns).map((name) => ({
      name,
      type: "string",
      ...(name === "lots" && { notPersonal: "numbers of the maker's lots" }),
    })),
  ];
  const header = fields.map(({ name }) => name).join(",");
  const row = `K1,9,0,f,${Object.values(columns).join(",")}`;
  return [
    { content: `${header}\n${row}\n`, description: descriptor(fields) },
    {
      content: `${header},${secret}\n${row},${secret}@example.org\n`,
      description: descriptor(fields, { path: "Anna_Nuken.csv" }),
    },
  ];
}
