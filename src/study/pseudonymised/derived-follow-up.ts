import { UsageError } from "../../base/errors.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import type { ExportField } from "../../cases/descriptor.ts";
import type { Endpoint, Outcome } from "../../cohort/endpoint.ts";
import { followUp } from "../../cohort/follow-up.ts";
import { selectCohort } from "../../cohort/select-cohort.ts";

/** Follow-up as two fields in place of every date. */
export interface DerivedFollowUp {
  readonly fields: readonly ExportField[];
  /** Text of the two cells of a row, or undefined where the row was never under observation. */
  readonly cells: (row: number) => readonly [string, string] | undefined;
  /** Rows without follow-up, by reason. */
  readonly leftOut: Readonly<Record<string, number>>;
}

const CENSORED = "censored";
const DEATH = "dead";
const OTHER = "revised-other";

/**
 * Days of follow-up and how each ended, by the same rules as a study's: every reason for revision is an outcome of its
 * own, so that any question that was open with dates and needs no calendar stays open without them.
 *
 * @throws UsageError `entry-dates-cannot-be-dropped` where knees came under observation after their operation: durations
 * cannot say so.
 */
export function derivedFollowUp(cases: Cases): DerivedFollowUp {
  const endpoint = everyOutcome(cases);
  const followed = followUp(cases, selectCohort(cases, []), endpoint);
  if (followed.entry !== undefined) {
    throw new UsageError(
      "entry-dates-cannot-be-dropped",
      'some rows have an entry date after the operation, which durations cannot keep; use "--dates month" or "--dates year"',
    );
  }
  const placeOfRow = new Int32Array(cases.rows).fill(-1);
  followed.rows.forEach((row, place) => {
    placeOfRow[row] = place;
  });
  const statuses = [CENSORED, ...followed.outcomes];
  return {
    fields: [
      { name: "follow_up_days", title: "Follow-up", type: "integer", unit: "d", role: "followUpTime" },
      {
        name: "follow_up_status",
        title: "How follow-up ended",
        type: "string",
        role: "status",
        categories: statuses.map((value) => ({ value, outcome: value })),
      },
    ],
    cells: (row) => {
      const place = placeOfRow[row] ?? -1;
      if (place < 0) return undefined;
      return [String(followed.exit[place]), statuses[followed.outcome[place] ?? 0] ?? ""];
    },
    leftOut: Object.fromEntries(followed.findings.groups.map(({ code, count }) => [code, count])),
  };
}

function everyOutcome(cases: Cases): Endpoint {
  const { revisionCapture, deathCapture, dataCut } = cases.descriptor.study;
  const isNational = revisionCapture === "national" && deathCapture === "national" && dataCut !== undefined;
  const reason = columnOfRole(cases, "revisionReason");
  const codes = reason?.kind === "code" ? reason.codes : [];
  const revisions: readonly Outcome[] =
    codes.length === 0
      ? [{ label: "revised", revisionFor: "any" }]
      : [
          ...codes.map((code) => ({ label: `revised-${code}`, revisionFor: [code] })),
          { label: OTHER, revisionFor: "other" },
        ];
  const deaths: readonly Outcome[] = cases.fieldOfRole.has("deathDate")
    ? [{ label: DEATH, death: true }]
    : [];
  const [event, ...competing] = [...revisions, ...deaths];
  if (event === undefined) throw new Error("there is always a revision");
  return { event, competing, censoring: isNational ? "dataCut" : "lastContact" };
}
