import { readFileSync } from "node:fs";
import type { Cases } from "../../src/cases/cases.ts";
import { type InventedField, inventedCases } from "../technique/invented-cases.ts";

const ROLES: Readonly<Record<string, string>> = {
  case_id: "caseId",
  patient_id: "patientId",
  operation_date: "operationDate",
  age_years: "ageYears",
  diagnosis: "diagnosis",
  surgeon: "surgeon",
  revision_date: "revisionDate",
  revision_reason: "revisionReason",
  death_date: "deathDate",
  last_follow_up_date: "lastFollowUpDate",
};
const NO_REVISION = { "": "blank", none: "not revised", "not revised": "not revised", "0": "not revised" };

/** One of the invented exports that have tripped other software, typed as its dictionary says. */
export function trapExport(name: string, study: object = {}): Cases {
  const text = readFileSync(new URL(`./exports/${name}.csv`, import.meta.url), "utf8").trimEnd();
  const [header = "", ...lines] = text.split(/\r?\n/);
  const names = header.split(",");
  const reason = names.indexOf("revision_reason");
  // Two spellings of one reason are the reader's business; here they arrive as one.
  const rows = lines.map((line) =>
    line.split(",").map((cell, at) => (at === reason ? cell.trim().toLowerCase() : cell)),
  );
  return inventedCases(names.map(fieldOf), rows, study);
}

function fieldOf(name: string): InventedField {
  const role = ROLES[name];
  const type = name.endsWith("_date") ? "date" : name === "age_years" || name === "bmi" ? "number" : "string";
  return {
    name,
    type,
    ...(role !== undefined && { role }),
    ...(name === "revision_reason" && {
      categories: [{ value: "loosening" }, { value: "infection" }],
      missing: NO_REVISION,
    }),
  };
}
