import type { NumberColumn } from "../base/column.ts";
import { UsageError } from "../base/errors.ts";
import { TIME_UNITS, type TimeUnit } from "../base/time-unit.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { quoted } from "../technique/named-column.ts";
import type { Cohort, FollowUp } from "./cohort.ts";
import type { Endpoint } from "./endpoint.ts";
import { FROM_START, followUpRows } from "./follow-up-rows.ts";
import { outcomesOf, statusOutcomes } from "./outcome-codes.ts";

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
  if (endpoint.censoring !== "lastContact") {
    throw new UsageError(
      "censoring-rule-not-allowed",
      'endpoint: durations end where the export says, so no other end can be chosen; use censoring "lastContact"',
    );
  }
  const outcomeOfCode = statusOutcomes(cases, endpoint);
  const time = timeColumn(cases);
  const status = columnOfRole(cases, "status");
  const statedUnit = unitOf(cases, time);
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

/** Nearest whole day, halves up. */
function daysOf(duration: number, unit: TimeUnit): number {
  return Math.floor((duration * TIME_UNITS.day.perYear) / unit.perYear + 0.5);
}

function timeColumn(cases: Cases): NumberColumn {
  const column = columnOfRole(cases, "followUpTime");
  if (column?.kind === "number") return column;
  throw new UsageError(
    "role-not-in-export",
    'endpoint: outcomes named by status need a number field with the role "followUpTime"',
  );
}

function unitOf(cases: Cases, column: NumberColumn): TimeUnit {
  const code = caseFields(cases.descriptor).find(({ name }) => name === column.field)?.unit ?? "";
  const unit = Object.hasOwn(UNIT_OF_CODE, code) ? UNIT_OF_CODE[code] : undefined;
  if (unit !== undefined) return unit;
  throw new UsageError(
    "time-unit-not-stated",
    `field "${column.field}": its unit must be one of ${quoted(Object.keys(UNIT_OF_CODE))} (days, months, years)`,
  );
}

// The whole column decides, not the cohort: two cohorts of one export must count in the same unit.
function holdsWholeNumbers({ values, missing }: NumberColumn): boolean {
  return values.every((value, row) => missing[row] !== 0 || Number.isInteger(value));
}
