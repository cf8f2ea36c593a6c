import { type CodeColumn, type Column, isPresent } from "../base/column.ts";
import { yearOfDay } from "../base/day-number.ts";
import { planError } from "../base/plan-error.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { namedColumn } from "./named-column.ts";
import { rowCodes } from "./row-codes.ts";
import { shownLabels } from "./shown-labels.ts";
import { fieldTitle } from "./step-states.ts";

/** Which surgeon, centre, year or stratum each row belongs to. */
export interface RowLevels {
  readonly title: string;
  /** Per row: index into `labels`, or `NO_LEVEL`. */
  readonly codes: Int32Array;
  readonly labels: readonly string[];
}

/** Place of a row whose value is missing. */
export const NO_LEVEL = -1;

/**
 * The levels of a coded field, in the order of its dictionary.
 *
 * @throws UsageError as `stratumColumn`.
 */
export function fieldLevels(cases: Cases, name: string): RowLevels {
  const column = stratumColumn(cases, name);
  return {
    title: fieldTitle(cases, column.field),
    labels: shownLabels(cases, column),
    codes: codesWhere(column, (row) => column.values[row] ?? NO_LEVEL),
  };
}

/**
 * The coded field that a plan names as a stratum.
 *
 * @param place where in the plan it stands.
 * @throws UsageError `stratum-names-persons` where the field tells surgeons, patients or cases apart, and
 *   `stratum-not-coded` where it has no closed list of codes.
 */
export function stratumColumn(cases: Cases, name: string, place = "strata"): CodeColumn {
  const column = namedColumn(cases, name, place);
  refusePersons(cases, column, place);
  if (column.kind === "code") return column;
  const what = `field "${column.field}" has no closed list of codes; name a coded field`;
  throw planError([{ code: "stratum-not-coded", place, what, written: name }]);
}

/** Whose shares would be one person's. */
const PERSON_ROLES = ["surgeon", "patientId", "caseId"] as const;

function refusePersons({ fieldOfRole }: Cases, { field }: Column, place: string): void {
  const role = PERSON_ROLES.find((one) => fieldOfRole.get(one) === field);
  if (role === undefined) return;
  const what =
    `field "${field}" has the role "${role}", so every level would show what one of them did; ` +
    "name a field that puts many together";
  throw planError([{ code: "stratum-names-persons", place, what }]);
}

/** Centres by their dictionary, or undefined where the export has none. */
export function centreLevels(cases: Cases): RowLevels | undefined {
  return columnOfRole(cases, "centre")?.kind === "code" ? fieldLevels(cases, "role:centre") : undefined;
}

/**
 * Surgeons by numbers of our own, whatever the file calls them; undefined where the export has none.
 *
 * Rows without a surgeon belong to nobody.
 */
export function surgeonLevels(cases: Cases): RowLevels | undefined {
  const column = columnOfRole(cases, "surgeon");
  if (column === undefined) return undefined;
  const found = rowCodes(column);
  const labels: string[] = [];
  const dense = new Int32Array(found.count).fill(NO_LEVEL);
  const codes = codesWhere(column, (row) => {
    // In range: codes are below their count.
    const code = found.codes[row]!;
    if (dense[code] === NO_LEVEL) {
      dense[code] = labels.length;
      labels.push(`surgeon ${labels.length + 1}`);
    }
    return dense[code]!;
  });
  return { title: "surgeon", labels, codes };
}

/** Calendar years of the operations, or blocks of several; undefined where the export has no dates. */
export function operationYearLevels(cases: Cases, yearsInBlock = 1): RowLevels | undefined {
  const column = columnOfRole(cases, "operationDate");
  if (column?.kind !== "day") return undefined;
  const years = codesWhere(column, (row) => yearOfDay(column.values[row] ?? 0));
  const known = years.filter((year) => year !== NO_LEVEL);
  if (known.length === 0) return { title: "year of operation", labels: [], codes: years };
  const first = known.reduce((least, year) => Math.min(least, year));
  const last = known.reduce((most, year) => Math.max(most, year));
  const blocks = Math.floor((last - first) / yearsInBlock) + 1;
  return {
    title: "year of operation",
    labels: Array.from({ length: blocks }, (_, block) => {
      const from = first + block * yearsInBlock;
      const to = Math.min(from + yearsInBlock - 1, last);
      return from === to ? `${from}` : `${from}–${to}`;
    }),
    codes: years.map((year) => (year === NO_LEVEL ? NO_LEVEL : Math.floor((year - first) / yearsInBlock))),
  };
}

/** Every pair of two kinds of levels, such as a surgeon in a stretch of years. */
export function crossedLevels(one: RowLevels, other: RowLevels): RowLevels {
  const width = other.labels.length;
  return {
    title: `${one.title} and ${other.title}`,
    labels: one.labels.flatMap((label) => other.labels.map((second) => `${label}, ${second}`)),
    codes: one.codes.map((code, row) => {
      const second = other.codes[row] ?? NO_LEVEL;
      return code === NO_LEVEL || second === NO_LEVEL ? NO_LEVEL : code * width + second;
    }),
  };
}

function codesWhere(column: Column, codeOf: (row: number) => number): Int32Array {
  const codes = new Int32Array(column.missing.length).fill(NO_LEVEL);
  for (let row = 0; row < codes.length; row += 1) {
    if (isPresent(column, row)) codes[row] = codeOf(row);
  }
  return codes;
}
