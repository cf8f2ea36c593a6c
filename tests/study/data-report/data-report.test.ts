import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { loadDescriptor } from "../../../src/cases/load-descriptor.ts";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { dataReport } from "../../../src/study/data-report/data-report.ts";
import { examineExport } from "../../../src/study/data-report/examine-export.ts";
import { gatherDataReport } from "../../../src/study/data-report/gather-data-report.ts";
import { syntheticExport } from "../../../src/synthetic/synthetic-export.ts";
import { descriptor, type Json, writeExport, writeFiles } from "../../cases/export-file.ts";
import {
  DEATHS,
  link,
  linkedDescriptor,
  linkedFiles,
  REVISION_FIELDS,
  REVISIONS,
} from "../../cases/linked-exports.ts";
import { CASES, TICKS } from "../../cases/ticked-fields.ts";
import { attackerOf, solveSums } from "../../disclosure/attacker.ts";
import { countsOf, smallCells } from "../../disclosure/small-cells.ts";

/** An invented export, spoiled: some ages unreadable, some words respelt, three grades left blank. */
function spoiledExport(knees: number, seed: number, surgeons = 6): string {
  const folder = mkdtempSync(join(tmpdir(), "mantle-data-report-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const made = syntheticExport({ knees, surgeons, centres: 3, seed });
  const [header = "", ...lines] = [...made.csvChunks()].join("").trimEnd().split("\n");
  const names = header.split(",");
  const [age, sex, asa] = ["age_years", "sex", "asa_grade"].map((name) => names.indexOf(name));
  const spoiled = lines.map((line, at) => {
    const cells = line.split(",");
    if (at % 20 === 3) cells[age ?? 0] = "old";
    if (at % 90 === 5) cells[sex ?? 0] = (cells[sex ?? 0] ?? "").toUpperCase();
    if (at < 3) cells[asa ?? 0] = "";
    return cells.join(",");
  });
  writeFileSync(join(folder, "cases.csv"), `${[header, ...spoiled].join("\n")}\n`);
  writeFileSync(join(folder, "datapackage.json"), JSON.stringify(made.descriptor));
  return join(folder, "datapackage.json");
}

async function gathered(path: string) {
  return gatherDataReport(loadDescriptor(path), await examineExport(path));
}

function tableOf(exhibits: Awaited<ReturnType<typeof gathered>>["exhibits"], id: string) {
  const cleared = disclose(exhibits, "analyst").exhibits.find((exhibit) => exhibit.id === id);
  if (cleared?.kind !== "table") return undefined;
  return Object.fromEntries(cleared.rows.map(({ label, cells }) => [label, cells.map(({ text }) => text)]));
}

const DATED: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "died", type: "date", role: "deathDate" },
  { name: "seen", type: "date", role: "lastFollowUpDate" },
  { name: "centre", type: "string", role: "centre", categories: [{ value: "C1" }, { value: "C2" }] },
  {
    name: "reasons",
    type: "list",
    delimiter: "|",
    role: "revisionReason",
    categories: [{ value: "pain" }, { value: "infection" }, { value: "loosening" }],
  },
  { name: "component", type: "string", role: "loosenedComponent", categories: [{ value: "tibia" }] },
  { name: "bmi", type: "number" },
];

describe("the page of an export's checks", () => {
  it("counts cells, reasons and follow-up by hand", async () => {
    const rows = [
      // Followed 365 of the 1,826 days to the cut; lost.
      "K1,2015-01-01,,,2016-01-01,C1,,,27.1",
      "K2,2015-01-01,2017-01-01,,2017-01-01,C1,pain|infection,,x",
      "K3,2016-01-01,2018-01-01,,2018-01-01,C2,loosening,tibia,",
      "K4,2016-01-01,,2019-01-01,,C2,,,30",
    ];
    const path = writeExport(
      `case,operated,revised,died,seen,centre,reasons,component,bmi\n${rows.join("\n")}\n`,
      descriptor(DATED, {}, { dataCut: "2020-01-01", revisionCapture: "ownUnit", deathCapture: "unknown" }),
    );
    const { exhibits } = await gathered(path);
    expect(tableOf(exhibits, "fields")).toMatchObject({
      bmi: ["2", "1", "1", "0"],
      reasons: ["2", "2", "0", "1"],
    });
    expect(tableOf(exhibits, "reasons")).toEqual({
      pain: ["0 of 2", "1"],
      infection: ["1 of 2", "0"],
      loosening: ["1 of 2", "0"],
      "All with a reason": ["2", ""],
      "Several reasons ticked": ["1", ""],
      "Counts under another reason than the one written first": ["1", ""],
    });
    expect(tableOf(exhibits, "components")).toMatchObject({ tibia: ["1 of 1"], "not recorded": ["0 of 1"] });
    // Closed form: observed 365 + 731 of 1,826 + 731 days; all of C2 ended in an event.
    const ledger = tableOf(exhibits, "ledger");
    expect(ledger?.C1).toEqual(["2", "1", "0", "0", "0", "1", "0", "1 of 2", `${percent(1096, 2557)} %`]);
    expect(ledger?.C2).toEqual(["2", "1", "1", "0", "0", "0", "0", "0 of 2", "100 %"]);
    expect(ledger?.["All knees"]?.slice(0, 7)).toEqual(["4", "2", "1", "0", "0", "1", "0"]);
    // To year 1 (day 365) nobody is short; to year 2 (day 730) K1 is, by half.
    const grid = tableOf(exhibits, "follow-up-completeness");
    expect(grid?.C1?.slice(0, 2)).toEqual(["100 %", `${percent(365 + 730, 2 * 730)} %`]);
  });

  it("takes a blank tick or radiograph for something that did not happen, not for a gap", async () => {
    const film = { name: "film", title: "film", type: "date", role: "radiographDate" };
    const fields = [...CASES, ...TICKS, film, { name: "bmi", title: "BMI", type: "number", role: "bmi" }];
    const rows = Array.from({ length: 30 }, (_, at) => `K${at},2015-01-05,,2019-01-05,,,,,,27`);
    const path = writeExport(
      `${[fields.map(({ name }) => name).join(), ...rows].join("\n")}\n`,
      descriptor(fields),
    );
    const { exhibits } = await gathered(path);
    const filled = Object.keys(tableOf(exhibits, "completeness-by-year") ?? {});
    expect(filled).toEqual(["case", "operated", "BMI"]);
  });

  it("agrees cell by cell with a naive count by year and by centre", async () => {
    const path = spoiledExport(900, 3);
    const { exhibits } = await gathered(path);
    const text = readFileSync(join(path, "../cases.csv"), "utf8").trimEnd();
    const [header = [], ...rows] = text.split("\n").map((line) => line.split(","));
    const at = (name: string) => header.indexOf(name);
    const year = (row: readonly string[]) => (row[at("operation_date")] ?? "").slice(0, 4);
    const table = exhibits.find(({ id }) => id === "completeness-by-year");
    if (table?.kind !== "table") throw new Error("no such table");
    const bmi = table.rows.find(({ label }) => label === "Body-mass index");
    const years = table.columns.slice(1).map(({ label }) => label);
    const naive = years.map((label) => {
      const own = rows.filter((row) => year(row) === label);
      return [own.filter((row) => /^\d/.test(row[at("bmi")] ?? "")).length, own.length];
    });
    expect(
      bmi?.cells.map((cell) =>
        countsOf(cell)
          .slice(0, 2)
          .map(({ units }) => units),
      ),
    ).toEqual(naive);
    const ages = rows.filter((row) => row[at("age_years")] === "old").length;
    expect(tableOf(exhibits, "fields")?.Age).toEqual([String(rows.length - ages), "0", String(ages), "0"]);
  });

  it.each([
    [300, 11],
    [900, 12],
  ])("gives no small count away, on the page or by adding up: %i knees", async (knees, seed) => {
    const { exhibits } = await gathered(spoiledExport(knees, seed));
    for (const audience of ["committee", "external"] as const) {
      const cleared = disclose(exhibits, audience);
      const small = smallCells(exhibits, cleared);
      for (const { id, shown } of small) {
        expect(shown, `${audience}: ${id}`).toMatchObject({ hidden: true, values: [] });
      }
      expect(small.length).toBeGreaterThan(10);
      const attacker = attackerOf(exhibits, cleared);
      const { fixed } = solveSums(attacker);
      expect(attacker.small.length).toBeGreaterThan(10);
      expect(attacker.small.filter((key) => fixed.has(key))).toEqual([]);
    }
  });

  it("counts knees with several reasons where a second table gives them, apart from its rows", async () => {
    const listed = link("revisions", "revisions.csv", "knee", "case", [
      ...REVISION_FIELDS.slice(0, -1),
      {
        name: "reason",
        type: "list",
        delimiter: "|",
        role: "revisionReason",
        categories: [{ value: "pain" }, { value: "loosening" }, { value: "infection" }],
      },
    ]);
    const revisions = [
      "K1,left,2017-01-01,pain|infection",
      "K3,left,2018-05-01,pain|loosening",
      "K3,left,2017-05-01,loosening",
    ];
    const { exhibits } = await gathered(writeFiles(linkedFiles({ revisions }), linkedDescriptor([listed])));
    expect(tableOf(exhibits, "reasons")).toMatchObject({
      pain: ["0 of 2", "1"],
      infection: ["1 of 2", "0"],
      "Several reasons ticked": ["1", ""],
      "Counts under another reason than the one written first": ["1", ""],
    });
    const reasons = exhibits.find(({ id }) => id === "reasons");
    const sums = reasons?.kind === "table" ? (reasons.relations ?? []) : [];
    // Of two rows with several reasons one is a later revision, and no knee's.
    expect(sums.map(({ total, parts }) => [total.units, parts.map(({ units }) => units)])).toContainEqual([
      2,
      [1, 1],
    ]);
    for (const { total, parts } of sums) {
      expect(parts.reduce((sum, { units }) => sum + units, 0)).toBe(total.units);
    }
  });

  it("names no row and no case, gives the same bytes again, and is stamped", async () => {
    const path = spoiledExport(600, 4, 18);
    const [one, two] = [await dataReport(path, "committee"), await dataReport(path, "committee")];
    expect([...one.files]).toEqual([...two.files]);
    const cases = readFileSync(join(path, "../cases.csv"), "utf8").trimEnd().split("\n").slice(1);
    const ids = cases.flatMap((line) => line.split(",").slice(0, 2));
    for (const [name, text] of one.files) {
      expect(text, name).not.toMatch(/\brow \d|\bline \d/);
      expect(
        ids.filter((id) => text.includes(id)),
        name,
      ).toEqual([]);
      expect(text, name).not.toContain(">old<");
      expect(text, name).toMatch(/INVENTED/);
    }
    expect(one.findings.errors).toBeGreaterThan(0);
    expect(one.files.get("index.html")).toContain("but holds errors");
    expect([...one.files.keys()].filter((name) => name.startsWith("figures/"))).toEqual([
      "figures/completeness-by-year.svg",
      "figures/completeness-by-centre.svg",
      "figures/follow-up-completeness.svg",
    ]);
  });

  it("tells how second tables met the cases, with the numbers of the findings", async () => {
    const files = linkedFiles({
      revisions: ["K1,left,2017-01-01,pain", "K9,left,2017-01-01,pain", ",left,2017-01-01,pain"],
      deaths: ["P2,2018-01-01"],
    });
    const { exhibits } = await gathered(writeFiles(files, linkedDescriptor([REVISIONS, DEATHS])));
    expect(tableOf(exhibits, "linkage")).toEqual({
      "revisions (revisions)": ["3", "1", "1", "0", "0", "1"],
      "deaths (deaths)": ["1", "1", "0", "0", "0", "0"],
    });
    const hidden = disclose(exhibits, "committee").exhibits.find(({ id }) => id === "linkage");
    expect(JSON.stringify(hidden)).not.toMatch(/"values":\[[1-9]/);
  });

  it("says what cannot be told of durations, and makes a page of a file that is no table", async () => {
    const durations = await dataReport("data/mgus2/datapackage.json", "committee");
    expect(durations.files.get("index.html")).toContain("holds no dates of operation");
    expect(durations.files.has("tables/ledger.csv")).toBe(false);
    const broken = writeExport('case,operated\n"K1,2015-01-01\n', descriptor(DATED));
    const page = await dataReport(broken, "committee");
    expect(page).toMatchObject({ rows: 0 });
    expect(page.findings.errors).toBeGreaterThan(0);
    expect(page.files.get("index.html")).toContain("could not be read as a table");
    expect([...page.files.keys()].filter((name) => name.startsWith("tables/"))).toEqual([
      "tables/findings.csv",
      "tables/dictionary.csv",
    ]);
  });

  it("refuses a dictionary that is not there in words", async () => {
    await expect(dataReport("data/nowhere/datapackage.json", "committee")).rejects.toMatchObject({
      name: "UsageError",
    });
  });
});

function percent(part: number, whole: number): string {
  return String(Math.round((100 * part) / whole));
}
