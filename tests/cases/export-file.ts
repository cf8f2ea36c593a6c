import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";
import { type Json, STUDY } from "./study-block.ts";

export { type Json, STUDY };

const folder = mkdtempSync(join(tmpdir(), "cases-test-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let written = 0;

/** A descriptor around the given fields; `resource` and `study` add to or replace its keys. */
export function descriptor(fields: readonly Json[], resource: Json = {}, study: Json = {}): Json {
  return {
    name: "test-export",
    title: "Test export",
    resources: [{ name: "cases", path: "cases.csv", schema: { fields }, ...resource }],
    study: { ...STUDY, ...study },
  };
}

/** Writes descriptor and table to a folder of their own and answers the descriptor's path. */
export function writeExport(content: string | Uint8Array, description: Json, fileName = "cases.csv"): string {
  return writeFiles({ [fileName]: content }, description);
}

/** The same with several files. */
export function writeFiles(files: Readonly<Record<string, string | Uint8Array>>, description: Json): string {
  written += 1;
  const base = mkdtempSync(join(folder, `export-${written}-`));
  for (const [name, content] of Object.entries(files)) writeFileSync(join(base, name), content);
  const path = join(base, "datapackage.json");
  writeFileSync(path, JSON.stringify(description));
  return path;
}

/** Writes a lone file and answers its path. */
export function writeFile(content: string | Uint8Array, ending = ""): string {
  written += 1;
  const path = join(folder, `file-${written}${ending}`);
  writeFileSync(path, content);
  return path;
}

/** Fields of an export with dates, with every role that a rule reads. */
export const DATED_FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "patient", type: "string", role: "patientId" },
  { name: "side", type: "string", role: "side", categories: [{ value: "left" }, { value: "right" }] },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "entered", type: "date", role: "entryDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  {
    name: "reason",
    type: "string",
    role: "revisionReason",
    categories: [{ value: "loosening" }, { value: "infection" }],
    missingValues: ["", "none"],
  },
  { name: "component", type: "string", role: "loosenedComponent" },
  { name: "died", type: "date", role: "deathDate" },
  { name: "emigrated", type: "date", role: "emigrationDate" },
  { name: "seen", type: "date", role: "lastFollowUpDate" },
  { name: "age", type: "number", role: "ageYears" },
  { name: "bmi", type: "number", role: "bmi" },
  { name: "asa", type: "integer", role: "asaGrade" },
  {
    name: "tourniquet",
    type: "string",
    role: "technique:tourniquet",
    categories: [
      { value: "yes", label: "tourniquet", state: "done" },
      { value: "no", label: "no tourniquet", state: "notDone" },
    ],
    missingValues: [{ value: "", label: "not recorded" }],
  },
  { name: "tourniquet_noted", type: "date", role: "technique:tourniquet:recordedOn" },
];

const SOUND_ROW: Record<string, string> = {
  case: "K0001",
  patient: "P0001",
  side: "right",
  operated: "2015-01-05",
  entered: "",
  revised: "",
  reason: "",
  component: "",
  died: "",
  emigrated: "",
  seen: "2020-06-30",
  age: "66.5",
  bmi: "27.8",
  asa: "2",
  tourniquet: "yes",
  tourniquet_noted: "",
};

/** CSV of dated cases: each row is a sound row with the cells given replaced; ids count up unless given. */
export function datedCsv(...rows: readonly Record<string, string>[]): string {
  const names = DATED_FIELDS.map(({ name }) => String(name));
  const lines = rows.map((cells, index) => {
    const number = String(index + 1).padStart(4, "0");
    const row: Record<string, string> = { ...SOUND_ROW, case: `K${number}`, patient: `P${number}`, ...cells };
    return names.map((name) => row[name] ?? "").join(",");
  });
  return `${[names.join(","), ...lines].join("\n")}\n`;
}
