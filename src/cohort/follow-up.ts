import { ArgumentError } from "../base/errors.ts";
import { planError } from "../base/plan-error.ts";
import type { Cases } from "../cases/cases.ts";
import type { Cohort, FollowUp } from "./cohort.ts";
import type { Endpoint } from "./endpoint.ts";
import { endpointInDates, followUpFromDates } from "./follow-up-from-dates.ts";
import { endpointInDurations, followUpFromDurations } from "./follow-up-from-durations.ts";
import { ENDPOINT, outcomesOf } from "./outcome-codes.ts";

/** Last contact more than twelve months before the data cut is lost. */
const LOST_AFTER_DAYS = 365;

export interface FollowUpOptions {
  /** Alive, unrevised and last seen more than this many days before the data cut is lost. Default 365. */
  readonly lossDays?: number;
}

/**
 * How long each unit of the cohort was followed, and how that ended.
 *
 * Dates: follow-up starts on the day of the operation and ends on the first of revision, death, emigration and the
 * data cut; where the censoring rule is "lastContact", also on the last contact, but only where neither a revision nor
 * a death is on record. On one day a revision beats a death, and a death beats leaving. Nothing after the data cut
 * counts. A revision for a reason that no outcome names, and a death where none names it, censor. Day 0 counts. An
 * entry date after the operation delays entry; those in view from the operation have entry −1.
 *
 * "hybrid" follows revisions and deaths as "dataCut" does; to which visit a knee was seen stands in `followUpLedger`.
 *
 * Durations: whole numbers stay in their own unit; if any has decimals, all become days, round(x × 365.25 / units per
 * year), halves up. Entry, completeness and loss are then unknown.
 *
 * A row that was never under observation is left out of the result and counted as a finding.
 *
 * @throws UsageError where the endpoint does not fit the export, or its capture does not allow the censoring rule.
 *
 * @example
 * const cases = await readCases("data/mgus2/datapackage.json");
 * followUp(cases, selectCohort(cases, []), {
 *   event: { label: "malignancy", status: "malignancy" },
 *   competing: [{ label: "death", status: "death" }],
 *   censoring: "lastContact",
 * }).outcomes; // "malignancy", "death"
 */
export function followUp(
  cases: Cases,
  cohort: Cohort,
  endpoint: Endpoint,
  options: FollowUpOptions = {},
): FollowUp {
  const { lossDays = LOST_AFTER_DAYS } = options;
  if (!Number.isSafeInteger(lossDays) || lossDays < 0) {
    throw new ArgumentError(`followUp: lossDays must be a whole number from 0 up; received ${lossDays}`);
  }
  const follow = countsByStatus(endpoint, ENDPOINT) ? followUpFromDurations : followUpFromDates;
  return follow(cases, cohort, endpoint, lossDays);
}

/**
 * Refuses an endpoint that does not fit an export, before anything is derived.
 *
 * @param place of the endpoint in the plan.
 * @throws UsageError naming everything of the endpoint that does not fit.
 */
export function requireEndpoint(cases: Cases, endpoint: Endpoint, place = ENDPOINT): void {
  if (countsByStatus(endpoint, place)) endpointInDurations(cases, endpoint, place);
  else endpointInDates(cases, endpoint, place);
}

function countsByStatus(endpoint: Endpoint, place: string): boolean {
  const outcomes = outcomesOf(endpoint);
  const byStatus = outcomes.filter((outcome) => "status" in outcome).length;
  if (byStatus === 0 || byStatus === outcomes.length) return byStatus > 0;
  const what =
    "outcomes are named by status (durations) and by revision or death (dates); name all of them in one way";
  throw planError([{ code: "endpoint-mixed", place, what }]);
}
