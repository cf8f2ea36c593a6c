import type { Column, DayColumn, NumberColumn } from "../base/column.ts";
import type { Severity } from "../base/finding.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import type { FieldRole } from "./roles.ts";
import { rowCodes } from "./row-codes.ts";

/** Completed years are rounded down, and a birthday can lie between two operations: more than this contradicts. */
const AGE_LEEWAY_YEARS = 1;

/** What two rows of one patient may not say about each other. */
interface PairRule {
  readonly code: string;
  readonly severity: Severity;
  readonly at: FieldRole;
  readonly reads: readonly FieldRole[];
  readonly test: (
    at: Column,
    reads: readonly Column[],
  ) => ((row: number, first: number) => boolean) | undefined;
}

const PAIR_RULES: readonly PairRule[] = [
  { code: "sex-conflicts", severity: "warning", at: "sex", reads: [], test: differs },
  { code: "death-dates-conflict", severity: "error", at: "deathDate", reads: [], test: differs },
  {
    code: "ages-conflict",
    severity: "warning",
    at: "ageYears",
    reads: ["operationDate"],
    test: (age, [operated]) =>
      age.kind === "number" && operated?.kind === "day" ? agesConflict(age, operated) : undefined,
  },
  {
    code: "operation-after-death",
    severity: "error",
    at: "operationDate",
    reads: ["deathDate"],
    test: (operated, [died]) =>
      operated.kind === "day" && died?.kind === "day" ? afterDeath(operated, died) : undefined,
  },
  {
    code: "revision-on-both-sides",
    severity: "warning",
    at: "revisionDate",
    reads: ["side"],
    test: (revised, [side]) =>
      side === undefined
        ? undefined
        : (row, first) =>
            bothPresent(revised, row, first) &&
            revised.values[row] === revised.values[first] &&
            bothPresent(side, row, first) &&
            side.values[row] !== side.values[first],
  },
  {
    code: "side-unknown-of-two-knees",
    severity: "warning",
    at: "side",
    reads: [],
    test: (side) => (row, first) => side.missing[row] !== 0 || side.missing[first] !== 0,
  },
];

/**
 * Knees of one patient that contradict each other: sex, age, death, and a revision that stands on both sides.
 *
 * Each row is held against the patient's first row, so a slip in one of two rows is named once. A revision on one day
 * in both knees is rare; it is what comes out where revisions were joined by patient instead of by knee.
 */
export function reportPatientConflicts(cases: Cases, log: FindingLog): void {
  const patient = columnOfRole(cases, "patientId");
  if (patient === undefined) return;
  const pairs = rowPairs(rowCodes(patient));
  for (const { code, severity, at, reads, test } of PAIR_RULES) {
    const column = columnOfRole(cases, at);
    const others = reads.map((role) => columnOfRole(cases, role));
    if (column === undefined || !others.every((other): other is Column => other !== undefined)) continue;
    const isBroken = test(column, others);
    if (isBroken === undefined) continue;
    for (let at = 0; at < pairs.length; at += 2) {
      // Pairs are written two by two.
      const [row, first] = [pairs[at]!, pairs[at + 1]!];
      if (!isBroken(row, first)) continue;
      const place = { row: row + 1, line: cases.source.lineOfRow[row] ?? 0, field: column.field };
      log.add({ code, severity, ...place, details: { firstRow: first + 1 } });
    }
  }
}

/** Each later row of a patient beside the patient's first one, flat. */
function rowPairs({ codes, count }: ReturnType<typeof rowCodes>): Int32Array {
  const firstRow = new Int32Array(count).fill(-1);
  const pairs = new Int32Array(2 * (codes.length - count));
  let filled = 0;
  for (let row = 0; row < codes.length; row += 1) {
    // Codes are below their count.
    const first = firstRow[codes[row]!]!;
    if (first < 0) firstRow[codes[row]!] = row;
    else {
      pairs[filled++] = row;
      pairs[filled++] = first;
    }
  }
  return pairs;
}

function differs(column: Column) {
  return (row: number, first: number) =>
    bothPresent(column, row, first) && column.values[row] !== column.values[first];
}

function agesConflict(age: NumberColumn, operated: DayColumn) {
  return (row: number, first: number) => {
    if (!bothPresent(age, row, first) || !bothPresent(operated, row, first)) return false;
    // In range: both are rows of the columns.
    const years = (operated.values[row]! - operated.values[first]!) / 365.25;
    return Math.abs(age.values[row]! - age.values[first]! - years) > AGE_LEEWAY_YEARS + 0.01;
  };
}

function afterDeath(operated: DayColumn, died: DayColumn) {
  // A row's own death is held against its own operation by a rule of its own.
  const isAfter = (one: number, other: number) =>
    operated.missing[one] === 0 && died.missing[other] === 0 && operated.values[one]! > died.values[other]!;
  return (row: number, first: number) => isAfter(row, first) || isAfter(first, row);
}

function bothPresent({ missing }: Column, row: number, first: number): boolean {
  return missing[row] === 0 && missing[first] === 0;
}
