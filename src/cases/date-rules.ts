import { requiredDayNumber } from "../base/day-number.ts";
import { CASE_ROLES, type CaseRole } from "./roles.ts";
import { dayTest, earlier, later, type RowRule } from "./rule-tests.ts";

/** No implant of today was cemented before it; a date that early is a slip or a default of the program. */
const EARLIEST_OPERATION = requiredDayNumber("1950-01-01", "date rules");
/** Longer than any knee replacement has been followed. */
const LONGEST_FOLLOW_UP_YEARS = 60;
export const LONGEST_FOLLOW_UP_DAYS = Math.floor(LONGEST_FOLLOW_UP_YEARS * 365.25);
const OLDEST_AGE = 120;

/** Orders of dates, and intervals that cannot be. */
export const DATE_RULES: readonly RowRule[] = [
  earlier("revision-before-operation", "revisionDate", "operationDate"),
  earlier("death-before-operation", "deathDate", "operationDate"),
  earlier("emigration-before-operation", "emigrationDate", "operationDate"),
  earlier("last-contact-before-operation", "lastFollowUpDate", "operationDate"),
  earlier("death-before-revision", "deathDate", "revisionDate"),
  earlier("last-contact-before-revision", "lastFollowUpDate", "revisionDate", "warning"),
  // Death registers are often later than the last visit, never earlier.
  earlier("death-before-last-contact", "deathDate", "lastFollowUpDate", "warning"),
  earlier("death-before-radiograph", "deathDate", "radiographDate", "warning"),
  earlier("entry-after-revision", "revisionDate", "entryDate", "warning"),
  earlier("entry-after-death", "deathDate", "entryDate", "warning"),
  earlier("entry-after-last-contact", "lastFollowUpDate", "entryDate", "warning"),
  later("revision-after-emigration", "revisionDate", "emigrationDate", "warning"),
  {
    code: "operation-date-impossible",
    severity: "error",
    at: "operationDate",
    details: { earliest: "1950-01-01" },
    test: dayTest((day) => day < EARLIEST_OPERATION),
  },
  ...(["revisionDate", "deathDate", "emigrationDate", "lastFollowUpDate", "radiographDate"] as const).flatMap(
    (role) => [tooLong(role), tooOld(role)],
  ),
];

export function datesAfterCut(dataCut: number): readonly RowRule[] {
  return CASE_ROLES.filter((role) => role.endsWith("Date")).map((at) => ({
    code: "date-after-data-cut",
    severity: "error",
    at,
    test: dayTest((day) => day > dataCut),
  }));
}

function tooLong(at: CaseRole): RowRule {
  const rule = later("interval-impossible", at, "operationDate", "error", LONGEST_FOLLOW_UP_DAYS);
  return { ...rule, details: { years: LONGEST_FOLLOW_UP_YEARS } };
}

/** The patient would have been older than anybody when this happened. Where the age alone is impossible, that is said. */
function tooOld(at: CaseRole): RowRule {
  return {
    code: "age-at-end-impossible",
    severity: "error",
    at,
    reads: ["operationDate", "ageYears"],
    details: { years: OLDEST_AGE },
    test: (column, [operation, age]) => {
      if (column.kind !== "day" || operation?.kind !== "day" || age?.kind !== "number") return undefined;
      return (row) => {
        if (column.missing[row] !== 0 || operation.missing[row] !== 0 || age.missing[row] !== 0) return false;
        // In range: columns have a value for every row.
        const years = (column.values[row]! - operation.values[row]!) / 365.25;
        const before = age.values[row]!;
        return before <= OLDEST_AGE && years <= LONGEST_FOLLOW_UP_YEARS && before + years > OLDEST_AGE;
      };
    },
  };
}
