import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { Cases } from "../../../src/cases/cases.ts";
import { checkCases } from "../../../src/cases/check-cases.ts";
import { pseudonymiser } from "../../../src/cases/pseudonym.ts";
import { readCases } from "../../../src/cases/read-cases.ts";
import { followUp } from "../../../src/cohort/follow-up.ts";
import { selectCohort } from "../../../src/cohort/select-cohort.ts";
import { type PseudonymiseOptions, pseudonymise } from "../../../src/study/pseudonymised/pseudonymise.ts";

const folder = mkdtempSync(join(tmpdir(), "pseudonymise-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const KEY = pseudonymiser(Buffer.from("0123456789abcdef0123456789abcdef"));
const DEMO = new URL("../../../data/demo/", import.meta.url).pathname;
const PLAIN: PseudonymiseOptions = { drop: [], replace: [], dates: "follow-up" };

/** The demo's first rows, with the changes of one test. */
function source(change: (lines: string[]) => string[] = (lines) => lines): string {
  const base = mkdtempSync(join(folder, `source-`));
  const lines = readFileSync(join(DEMO, "cases.csv"), "utf8").split("\n").slice(0, 601);
  writeFileSync(join(base, "cases.csv"), `${change(lines).join("\n")}\n`);
  writeFileSync(join(base, "datapackage.json"), readFileSync(join(DEMO, "datapackage.json")));
  return join(base, "datapackage.json");
}

async function written(path: string, options: PseudonymiseOptions) {
  const { files, warnings } = await pseudonymise(path, KEY, options);
  const base = mkdtempSync(join(folder, "made-"));
  for (const [name, content] of files) {
    writeFileSync(join(base, name), typeof content === "string" ? content : [...content].join(""));
  }
  const log = JSON.parse(readFileSync(join(base, "pseudonymise-log.json"), "utf8"));
  return { cases: await readCases(join(base, "datapackage.json")), log, warnings, base };
}

const texts = (cases: Cases, field: string) => {
  const column = cases.columns.get(field);
  return column?.kind === "text" ? [...column.values] : [];
};

describe("pseudonymise()", () => {
  it("keeps who is the same patient, in every file made with the key, and nothing of the old keys", async () => {
    const path = source();
    const before = await readCases(path);
    const { cases, base, log } = await written(path, PLAIN);
    const pairs = new Map(
      texts(before, "patient_id").map((old, row) => [old, texts(cases, "patient_id")[row]]),
    );
    texts(before, "patient_id").forEach((old, row) => {
      expect(texts(cases, "patient_id")[row]).toBe(pairs.get(old));
    });
    expect(new Set(pairs.values()).size).toBe(new Set(texts(before, "patient_id")).size);
    expect(readFileSync(join(base, "cases.csv"), "utf8")).not.toMatch(/K00000|P00001,/);
    expect(log.replaced).toEqual(["case_id", "patient_id"]);
    const other = await written(
      source((lines) => lines.slice(0, 300)),
      { ...PLAIN, dates: "month" },
    );
    expect(texts(other.cases, "patient_id")).toEqual(texts(cases, "patient_id").slice(0, 299));
  });

  it("derives the follow-up that the dates gave, for every reason, and leaves no date (identity)", async () => {
    const path = source();
    const before = await readCases(path);
    const { cases } = await written(path, PLAIN);
    expect([...cases.columns.values()].some(({ kind }) => kind === "day")).toBe(false);
    const dated = followUp(before, selectCohort(before, []), {
      event: { label: "loosening", revisionFor: ["loosening"] },
      competing: [
        { label: "other", revisionFor: "other" },
        { label: "death", death: true },
      ],
      censoring: "dataCut",
    });
    const status = cases.columns.get("follow_up_status");
    const known =
      status?.kind === "code" ? status.codes.filter((code) => !/^(censored|dead)$/.test(code)) : [];
    const lasting = followUp(cases, selectCohort(cases, []), {
      event: { label: "loosening", status: "revised-loosening" },
      competing: [
        ...known
          .filter((code) => code !== "revised-loosening")
          .map((code) => ({ label: code, status: code })),
        { label: "death", status: "dead" },
      ],
      censoring: "lastContact",
    });
    const death = lasting.outcomes.length;
    const merged = lasting.outcome.map((outcome) => (outcome === death ? 3 : outcome > 1 ? 2 : outcome));
    expect([...lasting.exit]).toEqual([...dated.exit]);
    expect([...merged]).toEqual([...dated.outcome]);
    expect(new Set(dated.outcome)).toEqual(new Set([0, 1, 2, 3]));
  });

  it("hands every other cell on as it was written, and passes the checks", async () => {
    const path = source();
    const before = await readCases(path);
    const { cases } = await written(path, PLAIN);
    for (const field of ["bmi", "diagnosis", "mixing", "age_years"]) {
      expect(cases.columns.get(field)).toEqual(before.columns.get(field));
    }
    expect(cases.findings.errors + checkCases(cases).errors).toBe(0);
    expect(cases.descriptor.study.exactDates).toBe(false);
  });

  it("blanks a record written after the revision, whose date it drops, and counts it", async () => {
    const late = (lines: string[]) =>
      lines.map((line, at) => {
        const cells = line.split(",");
        // Revised on the day after the operation, and the tourniquet written down much later.
        if (at === 1) Object.assign(cells, { 19: "2024-01-01", 33: "2022-11-18", 34: "infection" });
        return cells.join(",");
      });
    const { cases, log } = await written(source(late), PLAIN);
    expect(cases.columns.get("tourniquet")?.missing[0]).not.toBe(0);
    expect(log.recordsAfterRevisionBlanked.tourniquet).toBeGreaterThan(0);
  });

  it.each([
    ["month", /-01$/],
    ["year", /-01-01$/],
  ] as const)("sets dates to the first of their %s and says what that breaks", async (dates, first) => {
    const { base, warnings, log } = await written(source(), { ...PLAIN, dates });
    const lines = readFileSync(join(base, "cases.csv"), "utf8").trimEnd().split("\n").slice(1);
    for (const line of lines)
      for (const date of line.match(/\d{4}-\d{2}-\d{2}/g) ?? []) expect(date).toMatch(first);
    expect(warnings.join()).toContain("whole days");
    expect(log.coarsened).toContain("revision_date");
  });

  it("drops and replaces what is listed", async () => {
    const { cases, log } = await written(source(), { ...PLAIN, drop: ["bmi"], replace: ["surgeon"] });
    expect(cases.columns.has("bmi")).toBe(false);
    const surgeon = cases.columns.get("surgeon");
    expect(surgeon?.kind === "code" && surgeon.codes.every((code) => /^P[0-9a-f]{32}$/.test(code))).toBe(
      true,
    );
    expect(log.dropped).toContain("bmi");
  });

  it("refuses what would still name a person, a fault of the export, and a field it does not know", async () => {
    const named = source((lines) =>
      lines.map((line, at) => (at === 0 ? line : line.replace(/,S\d+,/, ",Dr. Tosen,"))),
    );
    await expect(pseudonymise(named, KEY, PLAIN)).rejects.toThrow(
      /^surgeon: would still tell who a person is/,
    );
    await expect(written(named, { ...PLAIN, replace: ["surgeon"] })).resolves.toBeDefined();
    const faulty = source((lines) => [...lines, lines[1] ?? ""]);
    await expect(pseudonymise(faulty, KEY, PLAIN)).rejects.toMatchObject({ code: "export-has-errors" });
    await expect(pseudonymise(source(), KEY, { ...PLAIN, drop: ["none"] })).rejects.toMatchObject({
      code: "unknown-field",
    });
    await expect(
      pseudonymise(source(), KEY, { ...PLAIN, drop: ["case_ids"], replace: ["surgon"] }),
    ).rejects.toThrow(
      /--drop: "case_ids" is no field of the export; did you mean "case_id"\?\n {2}--replace: "surgon" .*"surgeon"/,
    );
    await expect(pseudonymise(source(), KEY, { ...PLAIN, drop: ["case_id"] })).rejects.toMatchObject({
      code: "key-dropped",
    });
  });

  it("never writes a column that the dictionary does not know, and counts it", async () => {
    const extra = source((lines) => lines.map((line, at) => `${line},${at === 0 ? "extra" : "Dr. Tosen"}`));
    const { base, log } = await written(extra, PLAIN);
    expect(readFileSync(join(base, "cases.csv"), "utf8")).not.toContain("Tosen");
    expect(log.columnsNotDescribed).toBe(1);
  });
});
