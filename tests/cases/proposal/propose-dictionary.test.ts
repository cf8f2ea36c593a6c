import { writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import iconv from "iconv-lite";
import { describe, expect, it } from "vitest";
import { type Proposal, proposeDictionary } from "../../../src/cases/proposal/propose-dictionary.ts";
import { readCases } from "../../../src/cases/read-cases.ts";
import { writeFile } from "../export-file.ts";
import { gzip, type Table, utf16, workbook } from "../tables/table-files.ts";
import { exportOf, HABITS, KNEES, PLAIN_NAMES, roleOf } from "./naming-habits.ts";

function propose(content: string | Uint8Array): Promise<Proposal> {
  const path = writeFile(content);
  return proposeDictionary(dirname(path), [basename(path)]);
}

function fieldOf(proposal: Proposal, name: string) {
  const found = proposal.fields.find(({ field }) => field.name === name);
  if (found === undefined) throw new Error(`no field ${name}`);
  return found;
}

/** One column `x` beside the least that makes a table. */
async function column(cells: readonly string[], name = "x", delimiter = ";") {
  const lines = cells.map((cell, at) => `K${at}${delimiter}${cell}`);
  return fieldOf(await propose(`case${delimiter}${name}\n${lines.join("\n")}\n`), name);
}

describe("proposeDictionary()", () => {
  it.each(HABITS.map((habit) => [habit.label, habit] as const))(
    "guesses every role, type and form of an export in %s",
    async (_, habit) => {
      const proposal = await propose(exportOf(habit));
      expect(proposal.rows).toBe(KNEES);
      const roles = PLAIN_NAMES.map((name) => fieldOf(proposal, habit.names[name]).field.role);
      expect(roles).toEqual(PLAIN_NAMES.map(roleOf));
      const operated = fieldOf(proposal, habit.names.operated).field;
      expect([operated.type, operated.format ?? "default"]).toEqual(["date", habit.format]);
      const bmi = fieldOf(proposal, habit.names.bmi).field;
      expect([bmi.type, bmi.decimalChar ?? "."]).toEqual(["number", habit.decimalChar]);
      expect(fieldOf(proposal, habit.names.tourniquet).field.categories).toEqual(
        [habit.words.yes ?? "yes", habit.words.no ?? "no"]
          .sort()
          .map((value) => ({ value, state: value === (habit.words.yes ?? "yes") ? "done" : "notDone" })),
      );
      for (const { evidence } of proposal.fields) expect(evidence.length).toBeGreaterThan(0);
      expect(proposal.findings.errors).toBe(0);
      expect(proposal.fields.flatMap(({ open }) => open)).toEqual([]);
    },
  );

  it.each(HABITS.map((habit) => [habit.label, habit] as const))(
    "proposes for %s what reads the export without an error, once a person has filled what is open",
    async (_, habit) => {
      const path = writeFile(iconv.encode(exportOf(habit), "windows-1252"));
      const { descriptor } = await proposeDictionary(dirname(path), [basename(path)]);
      const out = join(dirname(path), `${basename(path)}.json`);
      writeFileSync(out, JSON.stringify(descriptor));
      await expect(readCases(out)).rejects.toThrow(/study\.invented: still open/);
      const study = {
        ...(descriptor.study as object),
        invented: false,
        revisionCapture: "unknown",
        deathCapture: "unknown",
      };
      writeFileSync(out, JSON.stringify({ ...descriptor, study }));
      const cases = await readCases(out);
      expect(cases.rows).toBe(KNEES);
      expect(cases.findings.errors).toBe(0);
    },
  );

  it("names columns that tell who a person is, with a count, and says nothing about their values", async () => {
    const names = ["Anna", "Peter", "Maria", "Thomas"];
    const rows = Array.from({ length: 40 }, (_, at) => {
      const [given, digits] = [names[at % 4], String(1_000_000 + at * 7919)];
      const born = `19${30 + (at % 40)}-03-${10 + (at % 18)}`;
      return `K${at},2015-05-${10 + (at % 18)},${given} Berg${"abcdefghijklmnopqrst"[at % 20]}en,${born},yes,${given}.${digits}@post.example,Knee swollen on day ${at} and seen by the nurse again`;
    });
    const header = "case,operation date,operated by,b,tourniquet,contact,said";
    const path = writeFile(`${header}\n${rows.join("\n")}\n`);
    const proposal = await proposeDictionary(dirname(path), [basename(path)]);
    expect(proposal.findings.groups.map(({ code, field, count }) => [code, field, count])).toEqual([
      ["holds-names", "operated by", 1],
      ["holds-birth-dates", "b", 1],
      ["holds-email-addresses", "contact", 1],
      ["holds-free-text", "said", 1],
    ]);
    for (const name of ["operated by", "b", "contact", "said"]) {
      const { field, evidence, open } = fieldOf(proposal, name);
      expect(field).toEqual({ name, type: "string" });
      expect([evidence.length, open]).toEqual([1, []]);
    }
    expect(JSON.stringify(proposal)).not.toMatch(/Anna|Berg|19[3-6]\d|@|swollen/);
  });

  it("takes columns of ticks for reasons for revision, and says which words are no tick", async () => {
    const rows = Array.from({ length: 30 }, (_, at) => {
      const ticks = at % 3 === 0 ? ["ja", "1", "x"] : ["nein", "0", ""];
      return [`K${at}`, ...ticks, at % 2 === 0 ? "ja" : "nein"].join(";");
    });
    const header = "case;Revision Infektion;Revision reason: pain;revised_for_loosening;pain";
    const proposal = await propose(`${header}\n${rows.join("\n")}\n`);
    const [, infection, pain, loosening, alone] = proposal.fields.map(({ field }) => field);
    expect(infection).toMatchObject({
      role: "revisionReason:infection",
      type: "string",
      categories: [{ value: "ja" }, { value: "nein", absent: true }],
    });
    expect(pain).toMatchObject({
      role: "revisionReason:pain",
      type: "string",
      categories: [{ value: "0", absent: true }, { value: "1" }],
    });
    expect(loosening).toMatchObject({ role: "revisionReason:loosening", categories: [{ value: "x" }] });
    // Pain may be why the knee was operated on first.
    expect(alone?.role).toBeUndefined();
  });

  it("does not make a title of a file that is called after a person", async () => {
    const folder = dirname(writeFile(""));
    writeFileSync(join(folder, "Anna Bergen.csv"), "case;bmi\nK1;27\nK2;28\n");
    const proposal = await proposeDictionary(folder, ["Anna Bergen.csv"]);
    expect(proposal.findings.groups.map(({ code }) => code)).toEqual(["file-name-identifies"]);
    expect([proposal.descriptor.title, proposal.descriptor.name]).toEqual(["export", "export"]);
  });

  it("proposes the same whatever the file is packed or written as", async () => {
    const [habit] = HABITS.filter(({ label }) => label === "German");
    if (habit === undefined) throw new Error("no such habit");
    const text = exportOf(habit);
    const plain = await propose(text);
    for (const content of [
      utf16(text, "little"),
      utf16(text, "big"),
      gzip(text),
      gzip(utf16(text, "little")),
    ]) {
      const other = await propose(content);
      expect(other.fields).toEqual(plain.fields);
    }
  });

  it("reads the types of a workbook", async () => {
    const table: Table = {
      header: ["Case", "Date of operation", "BMI"],
      rows: [
        ["K1", { day: "2015-01-05" }, 27.5],
        ["K2", { day: "2015-01-06" }, 31],
      ],
    };
    const proposal = await propose(workbook(table));
    expect(proposal.descriptor).toMatchObject({ resources: [{ format: "xlsx" }] });
    expect(proposal.fields.map(({ field }) => [field.role, field.type])).toEqual([
      ["caseId", "string"],
      ["operationDate", "date"],
      ["bmi", "number"],
    ]);
  });

  it("takes several files as one table", async () => {
    const [one, two] = [
      writeFile("case;age\nK1;60\n", "-2015.csv"),
      writeFile("case;age\nK2;61,5\n", "-2016.csv"),
    ];
    const proposal = await proposeDictionary(dirname(one), [basename(one), basename(two)]);
    expect(proposal.rows).toBe(2);
    expect(fieldOf(proposal, "age").field).toMatchObject({ type: "number", decimalChar: "," });
    expect(proposal.descriptor).toMatchObject({ resources: [{ path: [basename(one), basename(two)] }] });
  });
});

describe("a decision that the first rows do not give", () => {
  const many = (count: number, cell: string) => Array.from({ length: count }, () => cell);

  it("is found in the last row", async () => {
    const { field } = await column([...many(5000, "03/04/2019"), "13/04/2019"]);
    expect(field.format).toBe("%d/%m/%Y");
    expect((await column([...many(5000, "12"), "12,5"])).field).toMatchObject({
      type: "number",
      decimalChar: ",",
    });
  });

  it("is made by all date columns together", async () => {
    const proposal = await propose("case;a;b\nK1;03/04/2019;05/06/2019\nK2;05/06/2019;31/12/2019\n");
    expect(proposal.fields.map(({ field }) => field.format)).toEqual([undefined, "%d/%m/%Y", "%d/%m/%Y"]);
  });

  it("stays open where no date tells day from month, or where they contradict one another", async () => {
    const undecidable = await column(["03/04/2019", "05/06/2019"]);
    expect(undecidable.field.format).toBe("?");
    expect(undecidable.open.join()).toContain("state the order");
    const contradictory = await column(["13/02/2019", "02/13/2019"]);
    expect(contradictory.field.format).toBe("?");
    expect(contradictory.evidence.join()).toContain("no one order");
  });

  it.each([
    ["years of two digits", ["31.12.19", "30.11.18"], "two digits"],
    ["days of one digit", ["3.12.2019", "13.11.2018"], "one digit"],
    ["times of day", ["2019-12-31 10:00", "2018-11-30 00:00"], "time of day"],
    ["two marks", ["31.12.2019", "30/11/2018"], "different marks"],
    ["two forms", ["31.12.2019", "2018-11-30"], "year first and year last"],
  ])("stays open for %s", async (_, cells, expected) => {
    expect((await column(cells)).open.join()).toContain(expected);
  });

  it("stays open for a spreadsheet's serial numbers under the name of a date", async () => {
    const { field, open } = await column(["43466", "43555"], "operation date");
    expect(field).toMatchObject({ role: "operationDate", type: "date", serialDates: "?" });
    expect(open.join()).toContain("1900 or 1904");
  });

  it("stays open for points and commas in one column, and for words without a known meaning", async () => {
    expect((await column(["1.5", "2,5", "3.5"])).open.join()).toContain("decimal mark");
    const lavage = await column([...many(20, "pulsed"), ...many(20, "syringe"), "xq"], "lavage");
    expect(lavage.field.categories).toEqual([
      { value: "pulsed", state: "?" },
      { value: "syringe", state: "?" },
    ]);
    expect(lavage.open.at(-1)).toContain("1 more word is too rare");
  });

  it("gives ages their role in spite of a slip, which is a finding once the column is read", async () => {
    const ages = Array.from({ length: 40 }, (_, at) => String(50 + at));
    expect((await column([...ages, "750", "-3"], "Alter bei OP")).field.role).toBe("ageYears");
    expect(
      (
        await column(
          ages.map((age) => `${age}00`),
          "Alter bei OP",
        )
      ).field.role,
    ).toBeUndefined();
  });

  it("stays open between two columns that could both have a role", async () => {
    const proposal = await propose("case;patient;age;age\u00a0\nK1;P1;60;61\nK2;P1;62;63\n");
    expect(proposal.fields.slice(2).map(({ field }) => field.role)).toEqual([undefined, undefined]);
    expect(fieldOf(proposal, "age").open.join()).toContain("ageYears");
  });
});

describe("what a proposal shows", () => {
  it("is never an identifier, a date, free text or a rare word", async () => {
    const rows = Array.from(
      { length: 40 },
      (_, at) =>
        `Zq7Xw${at};Zq7Xw${at % 7};20${10 + (at % 9)}-03-1${at % 9};Zq7Xw wrote ${at};${at === 0 ? "Zq7Xw" : "yes"};2${at}.${at}`,
    );
    const proposal = await propose(`case;patient;operation date;note;tourniquet;bmi\n${rows.join("\n")}\n`);
    expect(JSON.stringify(proposal)).not.toContain("Zq7Xw");
    expect(JSON.stringify(proposal)).not.toMatch(/20\d\d-\d\d-\d\d/);
  });

  it("is not a first row that is a record", async () => {
    const reading = propose("Zq7Xw;left;2019-01-02\nZq7Xx;right;2019-01-03\n");
    await expect(reading).rejects.toThrow("line 1, column 3: holds a number or a date");
    await expect(reading).rejects.not.toThrow("2019");
  });

  it("keeps words for missing and shared texts among numbers as missing values", async () => {
    const cells = [
      ...Array.from({ length: 200 }, (_, at) => `${20 + (at % 9)}.5`),
      ...Array.from({ length: 12 }, () => "not measured"),
      "NA",
      "",
    ];
    const { field, open } = await column(cells, "bmi");
    expect(field).toMatchObject({
      type: "number",
      missingValues: ["", { value: "NA", label: "NA" }, { value: "not measured", label: "not measured" }],
    });
    expect(open).toEqual([]);
    expect((await column([...cells, "heavy"], "bmi")).open.join()).toContain("1 values are not");
  });

  const many = (word: string, times: number) => Array.from({ length: times }, () => word);

  it("asks what a word means that may say of a step both not applicable and not recorded, with what the column shows", async () => {
    const cells = [
      ...many("yes", 20),
      ...many("no", 15),
      ...many("na", 12),
      "NA",
      "",
      "",
      ...many("unknown", 4),
    ];
    const { field, evidence, open } = await column(cells, "drilling");
    expect(field).toMatchObject({
      role: "technique:drilling",
      categories: [
        { value: "na", state: "?" },
        { value: "no", state: "notDone" },
        { value: "yes", state: "done" },
      ],
      missingValues: ["", { value: "unknown", label: "unknown" }],
    });
    expect(evidence).toContain('taken for missing: blank, "unknown"');
    expect(evidence).toContain("3 of its 5 words have a known meaning");
    expect(open).toEqual([
      'say which state "na" means: notApplicable or notRecorded (it stands in 13 of 54 rows, 2 cells are blank, another word means notRecorded)',
    ]);
  });

  it("asks the same of 1 and 0, and of a word that may also mean not done", async () => {
    const { field, open } = await column(
      [...many("1", 20), ...many("0", 15), ...many("ND", 11)],
      "glove change",
    );
    expect(field.categories).toEqual([
      { value: "0", state: "notDone" },
      { value: "1", state: "done" },
      { value: "ND", state: "?" },
    ]);
    expect(open.join()).toContain(
      'say which state "ND" means: notDone or notRecorded (it stands in 11 of 46 rows)',
    );
  });

  it("asks of ticks without a role whether they are a step, and elsewhere takes the word for missing", async () => {
    const ticks = await column([...many("ja", 20), ...many("nein", 15), ...many("n/a", 11)], "Knochen");
    expect(ticks.field).toMatchObject({ missingValues: [{ value: "n/a", label: "n/a" }] });
    expect(ticks.open).toEqual([
      'if this is a technique step, give it its role and "n/a" (11 of 46 rows) a state: notApplicable or notRecorded',
    ]);
    const side = await column([...many("left", 20), ...many("right", 15), ...many("na", 11)], "side");
    expect(side.field).toMatchObject({ missingValues: [{ value: "na", label: "na" }] });
    expect(side.open).toEqual([]);
  });
});

describe("a file that is no table", () => {
  it("is refused with what the nearest attempt found", async () => {
    await expect(propose('a;b\n1;2\n3;"4\n')).rejects.toThrow(/line 3.*never closed/s);
    await expect(propose("a;b\n1;2;3\n4;5\n")).rejects.toThrow(/line 2.*3 fields/s);
    await expect(propose("")).rejects.toThrow("no header");
    await expect(propose("just a text\nof lines\n")).rejects.toThrow();
  });
});
