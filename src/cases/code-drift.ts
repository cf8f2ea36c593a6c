import type { CodeColumn, DayColumn } from "../base/column.ts";
import { yearOfDay } from "../base/day-number.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";

/** A code used less often can be absent from a period by chance. */
const FEWEST_USES = 20;
/** More words than this are names, not codes. */
const MOST_CODES = 50;
/** People and products come and go; outcomes follow the operation by years. */
const CHANGING_ROLES: readonly string[] = [
  "surgeon",
  "centre",
  "implantCode",
  "cementCode",
  "revisionReason",
  "revisionSide",
  "loosenedComponent",
  "status",
];

/**
 * Codes of a field that replace one another in calendar time: one is never used again from the day on which another is
 * first used.
 *
 * Such a pair is rarely a change of practice, which takes years; it is a change of coding, and whoever compares the two
 * codes compares two periods. Implants, cements, people and outcomes are left out. Limits by judgement, no source.
 */
export function reportCodeDrift(cases: Cases, log: FindingLog): void {
  const operated = columnOfRole(cases, "operationDate");
  if (operated?.kind !== "day") return;
  const leftOut = CHANGING_ROLES.map((role) => [...cases.fieldOfRole].find(([each]) => each === role)?.[1]);
  for (const column of cases.columns.values()) {
    if (column.kind !== "code" || column.codes.length > MOST_CODES || leftOut.includes(column.field))
      continue;
    const since = dayOfReplacement(column, operated);
    if (since === undefined) continue;
    const details = { year: yearOfDay(since) };
    log.add({ code: "codes-change-over-time", severity: "warning", field: column.field, details });
  }
}

/** First day of the code that replaced another, or undefined where all overlap in time. */
function dayOfReplacement(column: CodeColumn, operated: DayColumn): number | undefined {
  const uses = spansOfUse(column, operated).filter(({ count }) => count >= FEWEST_USES);
  const starts = uses.filter(({ first }) => uses.some(({ last }) => last < first)).map(({ first }) => first);
  return starts.length === 0 ? undefined : Math.min(...starts);
}

function spansOfUse({ values, missing, codes }: CodeColumn, operated: DayColumn) {
  const counts = new Int32Array(codes.length);
  const firsts = new Float64Array(codes.length).fill(Number.POSITIVE_INFINITY);
  const lasts = new Float64Array(codes.length).fill(Number.NEGATIVE_INFINITY);
  for (let row = 0; row < missing.length; row += 1) {
    if (missing[row] !== 0 || operated.missing[row] !== 0) continue;
    // In range: a code is an index into the codes.
    const code = values[row]!;
    const day = operated.values[row]!;
    counts[code]! += 1;
    if (day < firsts[code]!) firsts[code] = day;
    if (day > lasts[code]!) lasts[code] = day;
  }
  return codes.map((_, code) => ({ count: counts[code]!, first: firsts[code]!, last: lasts[code]! }));
}
