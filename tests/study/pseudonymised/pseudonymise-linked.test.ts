import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { dateOfDay } from "../../../src/base/day-number.ts";
import type { Cases } from "../../../src/cases/cases.ts";
import { columnOfRole } from "../../../src/cases/column-of-role.ts";
import { pseudonymiser } from "../../../src/cases/pseudonym.ts";
import { readCases } from "../../../src/cases/read-cases.ts";
import type { CaseRole } from "../../../src/cases/roles.ts";
import { type PseudonymiseOptions, pseudonymise } from "../../../src/study/pseudonymised/pseudonymise.ts";
import { type Json, writeFiles } from "../../cases/export-file.ts";
import {
  DEATHS,
  link,
  linkedDescriptor,
  linkedFiles,
  RADIOGRAPHS,
  REVISION_FIELDS,
  REVISIONS,
} from "../../cases/linked-exports.ts";

const folder = mkdtempSync(join(tmpdir(), "pseudonymise-linked-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const KEY = pseudonymiser(Buffer.from("0123456789abcdef0123456789abcdef"));
const FILES = {
  revisions: ["K3,left,2018-05-17,pain", "K3,left,2017-05-11,loosening"],
  deaths: ["P1,2018-12-24", "P9,2018-11-11"],
  radiographs: ["K1,2018-01-15,progressive line", "K1,2016-02-15,none"],
};
const TABLES = [REVISIONS, DEATHS, RADIOGRAPHS];

async function made(
  options: Partial<PseudonymiseOptions>,
  files: Parameters<typeof linkedFiles>[0] = FILES,
  tables: readonly Json[] = TABLES,
) {
  const path = writeFiles(linkedFiles(files), linkedDescriptor(tables));
  const result = await pseudonymise(path, KEY, { drop: [], replace: [], dates: "month", ...options });
  const base = mkdtempSync(join(folder, "made-"));
  for (const [name, content] of result.files) {
    writeFileSync(join(base, name), typeof content === "string" ? content : [...content].join(""));
  }
  const text = (name: string) => readFileSync(join(base, name), "utf8");
  return {
    before: await readCases(path),
    after: await readCases(join(base, "datapackage.json")),
    names: [...result.files.keys()],
    warnings: result.warnings,
    log: JSON.parse(text("pseudonymise-log.json")),
    text,
  };
}

function said(cases: Cases, role: CaseRole): (string | null)[] {
  const column = columnOfRole(cases, role);
  return Array.from(column?.missing ?? [], (missing, row) => {
    if (missing > 0 || column === undefined) return null;
    if (column.kind === "day") return dateOfDay(column.values[row] ?? 0);
    return column.kind === "code" ? (column.codes[column.values[row] ?? 0] ?? null) : null;
  });
}

describe("pseudonymise() of an export with second tables", () => {
  it("ties them to the cases by the same pseudonyms, and leaves no old key and no exact date", async () => {
    const { before, after, names, text, log } = await made({});
    const linked = ["linked-1-revisions.csv", "linked-2-deaths.csv", "linked-3-radiographs.csv"];
    expect(names).toEqual(["cases.csv", ...linked, "datapackage.json", "pseudonymise-log.json"]);
    for (const name of ["cases.csv", ...linked]) {
      expect(text(name)).not.toMatch(/\b[KP]\d\b/);
      for (const date of text(name).match(/\d{4}-\d{2}-\d{2}/g) ?? []) expect(date).toMatch(/-01$/);
    }
    expect(after.findings.errors).toBe(0);
    // The death of a patient who is not among the cases stays behind.
    expect(after.linkage?.map(({ matched, unmatched }) => [matched, unmatched])).toEqual([
      [2, 0],
      [1, 0],
      [2, 0],
    ]);
    const month = (dates: readonly (string | null)[]) =>
      dates.map((date) => date && `${date.slice(0, 7)}-01`);
    for (const role of ["revisionDate", "deathDate", "radiographDate", "radiographFindingDate"] as const) {
      expect(said(after, role)).toEqual(month(said(before, role)));
    }
    for (const role of ["revisionReason", "radiographFinding"] as const) {
      expect(said(after, role)).toEqual(said(before, role));
    }
    expect(log.secondTables.map(({ rows }: { rows: unknown }) => rows)).toEqual([
      { read: 2, written: 2 },
      { read: 2, written: 1 },
      { read: 2, written: 2 },
    ]);
    expect(log.replaced).toEqual(["case", "patient", "revisions.knee", "deaths.person", "radiographs.knee"]);
    expect(log.coarsened).toContain("deaths.died");
  });

  it("drops and replaces fields of second tables by their table's name", async () => {
    const { after, text } = await made({ drop: ["radiographs.lines"], replace: ["revisions.reason"] });
    expect(after.fieldOfRole.has("radiographFinding")).toBe(false);
    expect(text("linked-1-revisions.csv")).not.toMatch(/pain|loosening/);
    await expect(made({ drop: ["lines"] })).rejects.toThrow(
      /did you mean "radiographs\.lines"\?\n.*as table\.field/,
    );
  });

  it("writes none where follow-up is derived, and says what is lost", async () => {
    const { names, warnings, log } = await made({ dates: "follow-up" });
    expect(names).toEqual(["cases.csv", "datapackage.json", "pseudonymise-log.json"]);
    expect(warnings.join()).toMatch(/were not written.*radiographs does not/);
    expect(log.secondTablesNotWritten).toEqual(["revisions", "deaths", "radiographs"]);
  });

  it("refuses what tells who a person is in a second table, until it is dropped", async () => {
    const noted = link("revisions", "revisions.csv", "knee", "case", [
      ...REVISION_FIELDS.slice(0, -1),
      { name: "reason", title: "said", type: "string" },
    ]);
    const files = { ...FILES, revisions: ["K3,left,2017-05-11,Dr. Anna Tosen operated"] };
    await expect(made({}, files, [noted])).rejects.toThrow(/^revisions\.reason: would still tell/);
    await expect(made({ drop: ["revisions.reason"] }, files, [noted])).resolves.toBeDefined();
  });

  it("refuses to lose a key, or which of two revisions came first", async () => {
    await expect(made({ drop: ["deaths.person"] })).rejects.toMatchObject({ code: "linked-key-lost" });
    await expect(made({ drop: ["patient"] })).rejects.toMatchObject({ code: "linked-key-lost" });
    const revisions = ["K3,left,2018-05-17,pain", "K3,left,2018-02-11,loosening"];
    await expect(made({ dates: "year" }, { revisions }, [REVISIONS])).rejects.toMatchObject({
      code: "linked-order-lost",
    });
    await expect(made({ dates: "month" }, { revisions }, [REVISIONS])).resolves.toBeDefined();
  });
});
