import { type Column, isPresent } from "../base/column.ts";
import type { Cases } from "./cases.ts";
import { codeMeanings } from "./code-meanings.ts";
import { columnOfRole } from "./column-of-role.ts";

/** Which radiograph says what was found in each knee: rows of the second table, or −1. */
export interface LinkedFindings {
  /** The first radiograph on which something was found, else the last that says that nothing was. */
  readonly saying: Int32Array;
  /** The first radiograph on which something was found. */
  readonly first: Int32Array;
}

/**
 * The first finding of each knee on its radiographs, such as a progressive line.
 *
 * Radiographs count from the day of the operation to that of the first revision: earlier and later ones show another
 * implant, or none. A knee whose day is not known has no such bound.
 *
 * A word that the dictionary marks as `absent` ("none") says that nothing was found; a radiograph without a date or
 * without a word says neither. Undefined where the table has no coded field of findings.
 */
export function linkedFindings(
  table: Cases,
  caseOfRow: Int32Array,
  cases: Cases,
): LinkedFindings | undefined {
  const finding = columnOfRole(table, "radiographFinding");
  const taken = columnOfRole(table, "radiographDate");
  if (finding?.kind !== "code" || taken?.kind !== "day") return undefined;
  const isNothing = codeMeanings(table, finding).map(({ absent }) => absent);
  const [first, lastWithout] = [new Int32Array(cases.rows).fill(-1), new Int32Array(cases.rows).fill(-1)];
  const operatedOn = dayReader(columnOfRole(cases, "operationDate"), -Infinity);
  const revisedOn = dayReader(columnOfRole(cases, "revisionDate"), Infinity);
  const dayOf = (row: number) => taken.values[row] ?? 0;
  caseOfRow.forEach((caseRow, row) => {
    if (caseRow < 0 || !isPresent(finding, row) || !isPresent(taken, row)) return;
    if (dayOf(row) < operatedOn(caseRow) || dayOf(row) > revisedOn(caseRow)) return;
    const isFound = isNothing[finding.values[row] ?? 0] !== true;
    const kept = isFound ? first : lastWithout;
    const before = kept[caseRow] ?? -1;
    const isBetter = before < 0 || (isFound ? dayOf(row) < dayOf(before) : dayOf(row) > dayOf(before));
    if (isBetter) kept[caseRow] = row;
  });
  return { first, saying: first.map((row, caseRow) => (row >= 0 ? row : (lastWithout[caseRow] ?? -1))) };
}

function dayReader(column: Column | undefined, otherwise: number): (row: number) => number {
  if (column?.kind !== "day") return () => otherwise;
  return (row) => (isPresent(column, row) ? (column.values[row] ?? otherwise) : otherwise);
}
