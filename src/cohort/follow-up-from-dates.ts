import type { DayColumn } from "../base/column.ts";
import { requiredDayNumber } from "../base/day-number.ts";
import { planError, together } from "../base/plan-error.ts";
import { TIME_UNITS } from "../base/time-unit.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import type { CaseRole } from "../cases/roles.ts";
import { requireCensoringRule } from "./allowed-risks.ts";
import type { Cohort, FollowUp } from "./cohort.ts";
import type { Endpoint } from "./endpoint.ts";
import { FROM_START, followUpRows } from "./follow-up-rows.ts";
import { type DateOutcomes, dateOutcomes, ENDPOINT, outcomesOf } from "./outcome-codes.ts";
import { isLater, NEVER, radiographAfter } from "./seen-on-radiograph.ts";

/** Follow-up in whole days from the dates of an export. The rules are those of `followUp`. */
export function followUpFromDates(
  cases: Cases,
  cohort: Cohort,
  endpoint: Endpoint,
  lossDays: number,
): FollowUp {
  const { outcomes, dates } = endpointInDates(cases, endpoint);
  const { dataCut } = cases.descriptor.study;
  const cutDay = dataCut === undefined ? NEVER : requiredDayNumber(dataCut, "study.dataCut");
  const rows = followUpRows(cases, cohort.rows.length, {
    outcomes: outcomesOf(endpoint).map(({ label }) => label),
    timeUnit: TIME_UNITS.day,
    lossTicks: lossDays,
    possibleKnown: dataCut !== undefined,
  });
  const outcomeOfRevision = revisionOutcomes(cases, outcomes);
  for (const row of cohort.rows) {
    const start = dayOf(dates.operation, row);
    if (start === NEVER) {
      rows.leaveOut(row, "operation-date-missing", dates.operation.field);
      continue;
    }
    const revision = dayOf(dates.revision, row);
    const death = dayOf(dates.death, row);
    const emigration = dayOf(dates.emigration, row);
    // A revision or a death that is on record is itself a contact, so an older last contact does not hide it.
    const isEnded = revision !== NEVER || death !== NEVER;
    const lastContact = isEnded || dates.lastContact === undefined ? NEVER : lastSeen(dates, start, row);
    if (dates.lastContact !== undefined && !isEnded && Math.min(lastContact, emigration) === NEVER) {
      rows.leaveOut(row, "last-contact-missing", dates.lastContact.field);
      continue;
    }
    const end = Math.min(revision, death, emigration, lastContact, cutDay);
    const exit = end - start;
    // On one day a revision beats a death, and a death beats leaving.
    const outcome = revision === end ? outcomeOfRevision(row) : death === end ? outcomes.ofDeath : 0;
    const entered = dayOf(dates.entry, row);
    const entry = entered !== NEVER && entered > start ? entered - start : FROM_START;
    if (exit < 0) rows.leaveOut(row, "ends-before-operation", dates.operation.field);
    else if (exit <= entry) rows.leaveOut(row, "exit-not-after-entry", dates.entry?.field ?? "");
    else {
      const isLeaving = revision !== end && death !== end;
      const possible = isLeaving ? cutDay - start : exit;
      rows.keep(row, exit, outcome, entry, possible, isLeaving && cutDay - end > lossDays);
    }
  }
  return rows.finish();
}

/**
 * What an endpoint counts in an export with dates, and the columns it needs.
 *
 * @param place of the endpoint in the plan.
 * @throws UsageError naming everything of the endpoint that does not fit the export.
 */
export function endpointInDates(cases: Cases, endpoint: Endpoint, place = ENDPOINT) {
  const operation = dayColumn(cases, "operationDate");
  if (operation === undefined) {
    const what =
      'revisions and deaths need dates, but no date field has the role "operationDate"; ' +
      "name the outcomes by status where the export holds durations";
    throw planError([{ code: "role-not-in-export", place, what }]);
  }
  const [outcomes, lastContact] = together([
    () => dateOutcomes(cases, endpoint, place),
    () => lastContactColumn(cases, endpoint, place),
    () => requireCensoringRule(cases.descriptor, endpoint, place),
  ]);
  return { outcomes, dates: dateColumns(cases, operation, lastContact) };
}

function lastContactColumn(cases: Cases, { censoring }: Endpoint, place: string): DayColumn | undefined {
  const column = censoring === "lastContact" ? dayColumn(cases, "lastFollowUpDate") : undefined;
  if (censoring !== "lastContact" || column !== undefined) return column;
  const what =
    'follow-up to the last contact needs a date field with the role "lastFollowUpDate"; give it in the dictionary, ' +
    'or choose "dataCut" where revisions and deaths are captured nationally';
  throw planError([{ code: "role-not-in-export", place: `${place}.censoring`, what }]);
}

function dateColumns(cases: Cases, operation: DayColumn, lastContact: DayColumn | undefined) {
  return {
    operation,
    lastContact,
    radiograph: lastContact === undefined ? undefined : dayColumn(cases, "radiographDate"),
    entry: dayColumn(cases, "entryDate"),
    revision: dayColumn(cases, "revisionDate"),
    death: dayColumn(cases, "deathDate"),
    emigration: dayColumn(cases, "emigrationDate"),
  };
}

/** The last contact, or the last radiograph where that is later. */
function lastSeen(dates: ReturnType<typeof dateColumns>, operated: number, row: number): number {
  const contact = dayOf(dates.lastContact, row);
  const radiograph = radiographAfter(operated, dates.radiograph, row);
  return isLater(radiograph, contact) ? radiograph : contact;
}

function dayColumn(cases: Cases, role: CaseRole): DayColumn | undefined {
  const column = columnOfRole(cases, role);
  return column?.kind === "day" ? column : undefined;
}

function dayOf(column: DayColumn | undefined, row: number): number {
  // In range: rows are rows of the export.
  return column === undefined || column.missing[row] !== 0 ? NEVER : column.values[row]!;
}

function revisionOutcomes(
  cases: Cases,
  { ofReason, ofUnknownReason }: DateOutcomes,
): (row: number) => number {
  const reason = columnOfRole(cases, "revisionReason");
  if (reason?.kind !== "code" || ofReason.length === 0) return () => ofUnknownReason;
  return (row) =>
    reason.missing[row] === 0 ? (ofReason[reason.values[row] ?? 0] ?? ofUnknownReason) : ofUnknownReason;
}
