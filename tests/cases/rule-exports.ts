import { dateOfDay } from "../../src/base/day-number.ts";
import type { Findings } from "../../src/base/finding.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { DATED_FIELDS, descriptor, type Json, writeExport } from "./export-file.ts";

/** The dated fields, and those that only rules across fields and rows read. */
export const RULE_FIELDS: readonly Json[] = [
  ...DATED_FIELDS,
  { name: "sex", type: "string", role: "sex", categories: [{ value: "female" }, { value: "male" }] },
  { name: "centre", type: "string", role: "centre" },
  { name: "surgeon", type: "string", role: "surgeon" },
  {
    name: "revised_side",
    type: "string",
    role: "revisionSide",
    categories: [{ value: "Left" }, { value: "Right" }],
  },
  {
    name: "sclerosis",
    type: "string",
    role: "sclerosis",
    categories: [{ value: "none" }, { value: "mild" }],
  },
  {
    name: "drilling",
    type: "string",
    role: "technique:drilling",
    categories: [
      { value: "yes", state: "done" },
      { value: "no", state: "notDone" },
      { value: "na", state: "notApplicable" },
    ],
  },
  {
    name: "fixation",
    type: "string",
    role: "fixation",
    categories: [{ value: "cemented" }, { value: "press", absent: true }],
  },
  {
    name: "mixing",
    type: "string",
    role: "technique:vacuumMixing",
    categories: [
      { value: "vacuum", state: "done" },
      { value: "bowl", state: "notDone" },
    ],
  },
  { name: "grade", type: "string", role: "operatorGrade" },
  { name: "taken", type: "date", role: "radiographDate" },
];

export type Cells = Readonly<Record<string, string>>;

/** CSV of the rule fields. Ids count up; every other cell is blank unless given. */
export function ruleCsv(rows: readonly Cells[]): string {
  const names = RULE_FIELDS.map(({ name }) => String(name));
  const lines = rows.map((cells, at) => {
    const number = String(at + 1).padStart(4, "0");
    const row: Cells = {
      case: `K${number}`,
      patient: `P${number}`,
      side: "right",
      operated: dayAt(at),
      ...cells,
    };
    return names.map((name) => row[name] ?? "").join(",");
  });
  return `${[names.join(","), ...lines].join("\n")}\n`;
}

/** A day that moves on by two a row, so that no day of the month stands out. */
export function dayAt(row: number, start = 16_436): string {
  return dateOfDay(start + 2 * row);
}

export async function ruleFindings(rows: readonly Cells[], study: Json = {}): Promise<Findings> {
  const cases = await readCases(writeExport(ruleCsv(rows), descriptor(RULE_FIELDS, {}, study)));
  return checkCases(cases);
}

/** "severity code field row", without rows for what concerns a whole column. */
export function briefly({ groups }: Findings): string[] {
  return groups.flatMap(({ severity, code, field, first }) =>
    first.map(({ row }) => [severity, code, field, row].filter((part) => part !== undefined).join(" ")),
  );
}
