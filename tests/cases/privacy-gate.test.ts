import { describe, expect, it } from "vitest";
import type { Findings } from "../../src/base/finding.ts";
import { joinFindings } from "../../src/base/finding-log.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { describeFinding } from "../../src/cases/messages.ts";
import { kindByHeader } from "../../src/cases/privacy-headers.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { reportSmallCombinations, smallCombinations } from "../../src/cases/small-combinations.ts";
import { descriptor, type Json, writeExport } from "./export-file.ts";

const ROOT = new URL("../../", import.meta.url).pathname;
const FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "patient", type: "string", role: "patientId" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "seen", type: "date", role: "lastFollowUpDate" },
];

interface Extra {
  readonly field?: Json;
  readonly header?: string;
  readonly values: readonly string[];
}

/** An export with one more column: described where a field is given, else only in the file. */
async function findings({ field, header = "extra", values }: Extra, resource: Json = {}): Promise<Findings> {
  const fields = field === undefined ? FIELDS : [...FIELDS, { name: header, ...field }];
  const lines = values.map((value, at) => {
    const number = String(at + 1).padStart(4, "0");
    return `K${number},P${number},2015-0${(at % 9) + 1}-11,,2019-0${(at % 7) + 1}-0${(at % 9) + 1},"${value}"`;
  });
  const csv = `case,patient,operated,revised,seen,${header}\n${lines.join("\n")}\n`;
  return (await readCases(writeExport(csv, descriptor(fields, resource)))).findings;
}

const codes = ({ groups }: Findings) =>
  groups.map(({ code }) => code).filter((code) => code !== "column-not-described");
const text = { type: "string" };
const repeated = (values: readonly string[], rows: number) =>
  Array.from({ length: rows }, (_, at) => values[at % values.length] ?? "");

const SYLLABLES = ["Ba", "Ke", "Lo", "Mi", "Nu", "Ra", "Se", "To"];
/** Invented surnames, nearly all different. */
const surnames = (count: number) =>
  Array.from({ length: count }, (_, at) => {
    const part = (place: number) => SYLLABLES[(at >> (3 * place)) % 8] ?? "";
    return `${part(0)}${part(1).toLowerCase()}${part(2).toLowerCase()}n`;
  });

const PERSONAL: readonly (readonly [string, readonly string[], string])[] = [
  ["surnames", surnames(60), "holds-names"],
  ["names in two orders", repeated(["Nuken, Anna", "Lomin, Peter", "Baken, Ute"], 30), "holds-names"],
  ["titled names", ["Dr. Tosen", "", ""], "holds-names"],
  ["given names", repeated(["Anna", "Peter", "Ursula", "Thomas"], 40), "holds-names"],
  ["e-mail addresses", ["", "a.b@example.org", ""], "holds-email-addresses"],
  ["calls from abroad", ["", "+44 20 7946 0000", ""], "holds-telephone-numbers"],
  ["calls at home", ["020 7946 0001", "0161-496-0002", "(0141) 496 0003"], "holds-telephone-numbers"],
  ["postcodes", ["ZZ1 1AA", "ZZ2 3BB", "ZZ3 4CC"], "holds-postcodes"],
  ["record numbers", ["4010232137", "9434765919", "4505577104", "5990128088"], "holds-record-numbers"],
  ["free text", ["", "seen by the family doctor who asked for another opinion", ""], "holds-free-text"],
  [
    "short notes that differ",
    ["knee was stiff at first", "had a fall in spring", "walks without any stick now"],
    "holds-free-text",
  ],
  ["dates of birth", repeated(["1948-03-07", "1951-12-24", "1939-07-30"], 12), "holds-birth-dates"],
  ["dates of birth, day first", repeated(["07.03.1948", "24.12.1951"], 12), "holds-birth-dates"],
];

const HARMLESS: readonly (readonly [string, readonly string[]])[] = [
  [
    "diagnoses",
    repeated(["Osteoarthritis", "Rheumatoid arthritis", "Osteonecrosis of the medial condyle"], 60),
  ],
  ["implants", repeated(["Alpha Fixed", "Alpha Mobile", "Beta Fixed", "Beta Constrained", "Gamma"], 60)],
  ["lot numbers", repeated(["LOT-48213", "LOT-48214", "LOT-48219"], 60)],
  ["case codes", Array.from({ length: 60 }, (_, at) => `C2015/${at}`)],
  ["days", Array.from({ length: 60 }, (_, at) => `2016-01-${String((at % 28) + 1).padStart(2, "0")}`)],
  ["times", repeated(["08:15", "11:40", "13:05"], 60)],
  ["measures", Array.from({ length: 60 }, (_, at) => `${20 + at / 10}`)],
  ["pseudonyms", Array.from({ length: 60 }, (_, at) => `P${(at * 2_654_435_761).toString(16)}`)],
  ["grades", repeated(["I", "II", "III"], 60)],
  ["two words a code", repeated(["left knee", "right knee", "not known"], 60)],
];

describe("reading an export", () => {
  it.each(PERSONAL)(
    "stops at %s, in a described column and in one the dictionary does not know",
    async (_name, values, code) => {
      const described = await findings({ field: text, values });
      expect(codes(described)).toEqual([code]);
      expect(described.errors).toBe(1);
      expect(codes(await findings({ values }))).toEqual([code]);
    },
  );

  it.each(HARMLESS)("lets %s pass", async (_name, values) => {
    expect(codes(await findings({ field: text, values }))).toEqual([]);
    expect(codes(await findings({ values }))).toEqual([]);
  });

  it("shows the column and the count, never a value, and no name of a column it does not know", async () => {
    for (const [, values] of PERSONAL) {
      const described = await findings({ field: text, header: "remainder", values });
      const unknown = await findings({ header: "Zq7Xw", values });
      const said =
        JSON.stringify([described, unknown]) +
        [...described.groups, ...unknown.groups].map(describeFinding).join();
      for (const value of values.filter((each) => each !== "")) expect(said).not.toContain(value);
      expect(said).not.toContain("Zq7Xw");
      expect(said).toContain("remainder");
      expect(said).toContain("column 6 of the file");
    }
  });

  it.each([
    ["described", { field: text, header: "surname", values: ["X1", "", "X2"] }, 2],
    ["unknown to the dictionary", { header: "Date_of_Birth", values: ["?", "", ""] }, 1],
  ])("believes the name of a column that is %s", async (_name, extra, values) => {
    const found = await findings(extra);
    const last = found.groups.find(({ severity }) => severity === "error");
    expect(last?.first[0]?.details).toMatchObject({ evidence: "its name", values });
  });

  it("says nothing of an empty column, whatever its name", async () => {
    expect(codes(await findings({ field: text, header: "surname", values: ["", ""] }))).toEqual([]);
  });

  it("finds dates of birth and record numbers that are typed as dates and numbers", async () => {
    const births = await findings({
      field: { type: "date" },
      values: repeated(["1948-03-07", "1951-12-24"], 10),
    });
    expect(codes(births)).toEqual(["holds-birth-dates"]);
    const numbers = await findings({
      field: { type: "integer" },
      values: ["4010232137", "9434765919", "4505577104", "5990128088"],
    });
    expect(codes(numbers)).toEqual(["holds-record-numbers"]);
  });

  it.each([
    ["Anna_Nuken.csv", 1],
    ["a.nuken@example.org.csv", 1],
    ["4010232137.csv", 1],
    ["knees_2015-2020_v2.csv", 0],
    ["Export_20240131.csv", 0],
    ["Export_202401310815.csv", 0],
    ["Unit_North_Cases.csv", 0],
  ])("looks at the file name %s: %i", async (path, expected) => {
    const csv = "case,patient,operated,revised,seen\nK1,P1,2015-01-11,,2019-01-01\n";
    const file = writeExport(csv, descriptor(FIELDS, { path }), path);
    expect(codes((await readCases(file)).findings)).toEqual(Array(expected).fill("file-name-identifies"));
  });

  it("takes dates as births from 16 years before the operation on", async () => {
    // Operated on the 11th of the months of 2015.
    const of = (birth: string) => findings({ field: { type: "date" }, values: Array(5).fill(birth) });
    expect(codes(await of("1998-12-31"))).toEqual(["holds-birth-dates"]);
    expect(codes(await of("1999-12-31"))).toEqual([]);
  });

  it("lets a column pass for a declared reason and keeps that in the log", async () => {
    const notPersonal = "lot numbers of the maker, checked by hand";
    const found = await findings({
      field: { type: "string", notPersonal },
      values: ["4010232137", "9434765919", "4505577104", "5990128088"],
    });
    expect(found.errors).toBe(0);
    expect(codes(found)).toEqual(["declared-not-personal"]);
    expect(found.groups[0]?.first[0]?.details).toMatchObject({ values: 4 });
  });

  it("does not take a surgeon's code for a name, nor a name for a code", async () => {
    const surgeon = { type: "string", role: "surgeon" };
    expect(codes(await findings({ field: surgeon, values: repeated(["S1", "AB", "North 2"], 30) }))).toEqual(
      [],
    );
    expect(codes(await findings({ field: surgeon, values: repeated(["Tosen", "Baken"], 30) }))).toEqual([
      "holds-names",
    ]);
  });

  it.each(["data/demo", "data/mgus2"])("finds nobody in %s", async (folder) => {
    const { groups } = (await readCases(`${ROOT}${folder}/datapackage.json`)).findings;
    expect(groups.filter(({ code }) => /^(holds|file-name|declared)/.test(code))).toEqual([]);
  });
});

describe("kindByHeader()", () => {
  it.each([
    ["KVNR", "number"],
    ["Versicherten-Nummer", "number"],
    ["SV-Nummer", "number"],
    ["Aufnahmenummer", "number"],
    ["Patientenname", "name"],
    ["Surname", "name"],
    ["patientName", "name"],
    ["name", "name"],
    ["Geburtsdatum", "birthDate"],
    ["date_of_birth", "birthDate"],
    ["födselsnummer", "number"],
    ["Hospital Number", "number"],
    ["ZIP", "postcode"],
    ["home_phone", "telephone"],
    ["Bemerkung", "freeText"],
  ])("knows %s", (header, kind) => {
    expect(kindByHeader(header)).toBe(kind);
  });

  it.each([
    "implant_name",
    "centre",
    "age_at_surgery",
    "case_number",
    "year_of_birth",
    "zipper",
    "mobile_bearing",
    "femoral_component_size",
  ])("lets %s pass", (header) => {
    expect(kindByHeader(header)).toBeUndefined();
  });
});

describe("smallCombinations()", () => {
  const fields = [
    { name: "case", type: "string", role: "caseId" },
    { name: "age", type: "number", role: "ageYears" },
    { name: "sex", type: "string", role: "sex" },
    { name: "time", type: "number", role: "followUpTime", unit: "d" },
    { name: "status", type: "string", role: "status", categories: [{ value: "0", outcome: "censored" }] },
  ];
  const read = async (people: readonly string[]) => {
    const csv = `case,age,sex,time,status\n${people.map((person, at) => `K${at},${person},9,0`).join("\n")}\n`;
    return readCases(writeExport(csv, descriptor(fields)));
  };

  it("counts the unique and those shared by two to four, and leaves five alone", async () => {
    const cases = await read([
      ...Array(5).fill("70,f"),
      ...Array(4).fill("70,m"),
      "71.2,f",
      "71.9,f",
      "72,f",
      ",f",
    ]);
    const { groups } = reportSmallCombinations(smallCombinations(cases));
    expect(groups[0]?.first[0]?.details).toEqual({ fields: "age, sex", rows: 13, alone: 2, below: 6 });
    expect(joinFindings(checkCases(cases)).errors).toBe(0);
  });

  it("says nothing where everybody is one of five", async () => {
    expect(reportSmallCombinations(smallCombinations(await read(Array(5).fill("70,f")))).groups).toEqual([]);
  });
});
