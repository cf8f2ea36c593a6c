import type { NumberColumn } from "../base/column.ts";
import { planError, together } from "../base/plan-error.ts";
import { TIME_UNITS, type TimeUnit } from "../base/time-unit.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { quoted } from "../technique/named-column.ts";
import type { Cohort, FollowUp } from "./cohort.ts";
import type { Endpoint } from "./endpoint.ts";
import { FROM_START, followUpRows } from "./follow-up-rows.ts";
import { ENDPOINT, outcomesOf, statusOutcomes } from "./outcome-codes.ts";

/** UCUM codes of follow-up times. */
const UNIT_OF_CODE: Readonly<Record<string, TimeUnit>> = {
  d: TIME_UNITS.day,
  mo: TIME_UNITS.month,
  a: TIME_UNITS.year,
};
/** Ticks are stored in 32 bits. */
const MOST_TICKS = 2_147_483_647;

/** Follow-up from durations and a status. The rules are those of `followUp`. */
export function followUpFromDurations(
  cases: Cases,
  cohort: Cohort,
  endpoint: Endpoint,
  lossDays: number,
): FollowUp {
  const { outcomeOfCode, time, statedUnit } = endpointInDurations(cases, endpoint);
  const status = columnOfRole(cases, "status");
  const isWhole = holdsWholeNumbers(time);
  const timeUnit = isWhole ? statedUnit : TIME_UNITS.day;
  const rows = followUpRows(cases, cohort.rows.length, {
    outcomes: outcomesOf(endpoint).map(({ label }) => label),
    timeUnit,
    lossTicks: Math.round((lossDays * timeUnit.perYear) / TIME_UNITS.day.perYear),
    possibleKnown: false,
  });
  for (const row of cohort.rows) {
    // In range: rows are rows of the export.
    const stated = time.values[row]!;
    const ticks = isWhole ? stated : daysOf(stated, statedUnit);
    if (time.missing[row] !== 0) rows.leaveOut(row, "follow-up-time-missing", time.field);
    else if (status?.missing[row] !== 0) rows.leaveOut(row, "status-missing", status?.field ?? "");
    // A duration is refused by what is written: −0.001 years would round to day 0.
    else if (stated < 0 || ticks > MOST_TICKS) rows.leaveOut(row, "follow-up-time-out-of-range", time.field);
    else rows.keep(row, ticks, outcomeOfCode[Number(status.values[row])] ?? 0, FROM_START, ticks, false);
  }
  return rows.finish();
}

/**
 * What an endpoint counts in an export with durations, and the column of time.
 *
 * @param place of the endpoint in the plan.
 * @throws UsageError naming everything of the endpoint that does not fit the export.
 */
export function endpointInDurations(cases: Cases, endpoint: Endpoint, place = ENDPOINT) {
  const [outcomeOfCode, [time, statedUnit]] = together([
    () => statusOutcomes(cases, endpoint, place),
    () => timeInUnit(cases, place),
    () => requireLastContact(endpoint, place),
  ]);
  return { outcomeOfCode, time, statedUnit };
}

function requireLastContact({ censoring }: Endpoint, place: string): void {
  if (censoring === "lastContact") return;
  const what = 'durations end where the export says, so no other end can be chosen; use "lastContact"';
  throw planError([{ code: "censoring-rule-not-allowed", place: `${place}.censoring`, what }]);
}

/** Nearest whole day, halves up. */
function daysOf(duration: number, unit: TimeUnit): number {
  return Math.floor((duration * TIME_UNITS.day.perYear) / unit.perYear + 0.5);
}

function timeInUnit(cases: Cases, place: string): readonly [NumberColumn, TimeUnit] {
  const column = columnOfRole(cases, "followUpTime");
  if (column?.kind !== "number") {
    const what =
      'outcomes named by status need a number field with the role "followUpTime"; give it in the dictionary, ' +
      "or name outcomes by revisionFor and death";
    throw planError([{ code: "role-not-in-export", place, what }]);
  }
  const code = caseFields(cases.descriptor).find(({ name }) => name === column.field)?.unit ?? "";
  const unit = Object.hasOwn(UNIT_OF_CODE, code) ? UNIT_OF_CODE[code] : undefined;
  if (unit !== undefined) return [column, unit];
  const what =
    `the times are in field "${column.field}", whose "unit" in the dictionary must be one of ` +
    `${quoted(Object.keys(UNIT_OF_CODE))} (days, months, years)`;
  throw planError([{ code: "time-unit-not-stated", place, what }]);
}

// The whole column decides, not the cohort: two cohorts of one export must count in the same unit.
function holdsWholeNumbers({ values, missing }: NumberColumn): boolean {
  return values.every((value, row) => missing[row] !== 0 || Number.isInteger(value));
}
