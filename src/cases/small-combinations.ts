import type { Column } from "../base/column.ts";
import type { Findings } from "../base/finding.ts";
import { findingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import type { CaseRole } from "./roles.ts";
import { rowCodes } from "./row-codes.ts";

/** What a neighbour or a newspaper can know of a person. */
const KNOWN_ROLES: readonly CaseRole[] = ["ageYears", "sex", "centre", "operationDate"];
/** A combination shared by fewer rows than this is small. */
const SMALL = 5;

/** How many rows share their combination of fields with few others. */
export interface SmallCombinations {
  readonly fields: readonly string[];
  readonly rows: number;
  /** Rows that nobody shares theirs with. */
  readonly alone: number;
  /** Rows that share theirs with one to three others. */
  readonly below: number;
}

/**
 * In how many rows age, sex, centre and day of operation together point at few people.
 *
 * Ages are taken in whole years; a missing value is a value of its own. Exports with exact dates are nearly always unique
 * in them, which is why they are personal data whatever their identifiers were replaced by.
 */
export function smallCombinations(cases: Cases): SmallCombinations {
  const columns = KNOWN_ROLES.map((role) => columnOfRole(cases, role)).filter(
    (column) => column !== undefined,
  );
  const keys = new Float64Array(cases.rows);
  for (const column of columns) addToKeys(keys, column);
  keys.sort();
  let [alone, below] = [0, 0];
  for (let start = 0; start < keys.length; ) {
    let end = start + 1;
    while (end < keys.length && keys[end] === keys[start]) end += 1;
    if (end - start === 1) alone += 1;
    else if (end - start < SMALL) below += end - start;
    start = end;
  }
  return { fields: columns.map(({ field }) => field), rows: cases.rows, alone, below };
}

/** The same as a finding: a note, or none where every combination is shared. */
export function reportSmallCombinations({ fields, rows, alone, below }: SmallCombinations): Findings {
  const log = findingLog();
  if (fields.length > 0 && alone + below > 0) {
    const details = { fields: fields.join(", "), rows, alone, below };
    log.add({ code: "small-combinations", severity: "note", details });
  }
  return log.findings();
}

/** Makes each key a number in a mixed base: whole numbers below 2 to the 53rd, so equal keys are equal combinations. */
function addToKeys(keys: Float64Array, column: Column): void {
  const { codes, size } = smallCodes(column);
  // In range: codes have one for every row.
  for (let row = 0; row < keys.length; row += 1) keys[row] = keys[row]! * size + codes[row]!;
}

function smallCodes(column: Column): { readonly codes: ArrayLike<number>; readonly size: number } {
  if (column.kind === "text") {
    const { codes, count } = rowCodes(column);
    return { codes, size: count };
  }
  const { values, missing } = column;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let row = 0; row < missing.length; row += 1) {
    // In range: a column has a value and a missing mark for every row.
    if (missing[row] !== 0) continue;
    const whole = Math.floor(values[row]!);
    if (whole < low) low = whole;
    if (whole > high) high = whole;
  }
  if (high < low) return { codes: new Uint8Array(missing.length), size: 1 };
  const codes = new Float64Array(missing.length);
  for (let row = 0; row < codes.length; row += 1) {
    if (missing[row] === 0) codes[row] = Math.floor(values[row]!) - low + 1;
  }
  return { codes, size: high - low + 2 };
}
