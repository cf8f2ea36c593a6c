import { planError, together } from "../base/plan-error.ts";
import { type PlanFault, unknownWord } from "../base/plan-fault.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { quoted, unknownCode } from "../technique/named-column.ts";
import type { Endpoint, Outcome } from "./endpoint.ts";

type RevisionOutcome = Extract<Outcome, { revisionFor: unknown }>;

/** Number of the outcome of each revision reason and of death; 0 censors. */
export interface DateOutcomes {
  readonly ofReason: readonly number[];
  readonly ofUnknownReason: number;
  readonly ofDeath: number;
}

const CENSORED = "censored";

/** Where the endpoint stands in most plans. */
export const ENDPOINT = "endpoint";

/** The outcomes of an endpoint in the order of their numbers, counted from 1. */
export function outcomesOf(endpoint: Endpoint): readonly Outcome[] {
  return [endpoint.event, ...endpoint.competing];
}

/**
 * Which outcome each revision and each death is.
 *
 * A revision whose reason is not written down is a revision all the same: "any" and "other" count it. A reason, or a
 * death, that no outcome names censors.
 *
 * @param place of the endpoint in the plan.
 * @throws UsageError where a reason is unknown, a role is lacking or the outcomes overlap: all of these at once.
 */
export function dateOutcomes(cases: Cases, endpoint: Endpoint, place = ENDPOINT): DateOutcomes {
  const outcomes = outcomesOf(endpoint);
  const numberOf = (meets: (outcome: Outcome) => boolean) => {
    const found = outcomes.filter(meets);
    if (found.length > 1)
      overlap(
        place,
        found.map(({ label }) => label),
      );
    return 1 + outcomes.findIndex(meets);
  };
  const ofDeath = numberOf((outcome) => "death" in outcome);
  const ofAny = numberOf((outcome) => "revisionFor" in outcome && outcome.revisionFor === "any");
  const ofOther = numberOf((outcome) => "revisionFor" in outcome && outcome.revisionFor === "other");
  const revisions = outcomes.filter((outcome): outcome is RevisionOutcome => "revisionFor" in outcome);
  if (ofAny > 0 && revisions.length > 1)
    overlap(
      place,
      revisions.map(({ label }) => label),
    );
  const ofUnknownReason = Math.max(ofAny, ofOther);
  const needsReasons = revisions.some(({ revisionFor }) => revisionFor !== "any");
  const [ofReason] = together([
    () => (needsReasons ? reasonOutcomes(cases, outcomes, ofUnknownReason, place) : []),
    () => (ofDeath > 0 ? requireRole(cases, "deathDate", place) : undefined),
    () => (revisions.length > 0 ? requireRole(cases, "revisionDate", place) : undefined),
  ]);
  return { ofReason, ofUnknownReason, ofDeath };
}

function reasonOutcomes(
  cases: Cases,
  outcomes: readonly Outcome[],
  otherwise: number,
  place: string,
): number[] {
  const column = columnOfRole(cases, "revisionReason");
  if (column?.kind !== "code") {
    const what =
      'revisions are told apart by reason, but no coded field has the role "revisionReason"; ' +
      'give it in the dictionary, or count revisions for "any" reason';
    throw planError([{ code: "role-not-in-export", place, what }]);
  }
  const unknown: PlanFault[] = [];
  const ofReason = column.codes.map(() => 0);
  outcomes.forEach((outcome, at) => {
    if (!("revisionFor" in outcome) || typeof outcome.revisionFor === "string") return;
    outcome.revisionFor.forEach((written, nth) => {
      const code = column.codes.indexOf(written);
      if (code < 0) {
        const where = `${placeOf(at, place)}.revisionFor[${nth}]`;
        unknown.push(unknownCode(cases, column, { code: "unknown-reason", place: where, written }));
        return;
      }
      const earlier = ofReason[code] ?? 0;
      if (earlier > 0) overlap(place, [outcomes[earlier - 1]?.label ?? "", outcome.label]);
      ofReason[code] = at + 1;
    });
  });
  if (unknown.length > 0) throw planError(unknown);
  return ofReason.map((outcome) => (outcome === 0 ? otherwise : outcome));
}

/** Where an outcome stands, by its place among all of them. */
function placeOf(outcome: number, endpoint: string): string {
  return outcome === 0 ? `${endpoint}.event` : `${endpoint}.competing[${outcome - 1}]`;
}

/**
 * Which outcome each code of the status field is, for exports with durations.
 *
 * @throws UsageError where an outcome is not in the dictionary of the field, or is named twice.
 */
export function statusOutcomes(cases: Cases, endpoint: Endpoint, place = ENDPOINT): readonly number[] {
  const column = columnOfRole(cases, "status");
  if (column?.kind !== "code") {
    const what =
      'outcomes are named by status, but no coded field of the export has the role "status"; give it in the dictionary, ' +
      "or name outcomes by revisionFor and death";
    throw planError([{ code: "role-not-in-export", place, what }]);
  }
  const categories = caseFields(cases.descriptor).find(({ name }) => name === column.field)?.categories ?? [];
  const named = column.codes.map((code) => categories.find(({ value }) => value === code)?.outcome);
  const known = [...new Set(named)].filter((name) => name !== undefined && name !== CENSORED);
  const statuses = outcomesOf(endpoint).map((outcome) => ("status" in outcome ? outcome.status : ""));
  const unknown = statuses.flatMap((written, at) =>
    known.includes(written)
      ? []
      : [
          unknownWord({
            code: "unknown-status",
            place: `${placeOf(at, place)}.status`,
            written,
            is: `is no outcome of field "${column.field}"`,
            known: { heading: `Outcomes of field "${column.field}"`, words: known.map(String) },
          }),
        ],
  );
  if (unknown.length > 0) throw planError(unknown);
  const twice = statuses.find((status, at) => statuses.indexOf(status) < at);
  if (twice !== undefined) overlap(place, [twice, twice]);
  // A code without an outcome in the dictionary is one that the endpoint cannot name, so it censors.
  return named.map((name) => 1 + statuses.indexOf(name ?? CENSORED));
}

function requireRole(cases: Cases, role: "deathDate" | "revisionDate", place: string): void {
  if (columnOfRole(cases, role)?.kind === "day") return;
  const what = `no date field of the export has the role "${role}"; give it in the dictionary, or leave that outcome out`;
  throw planError([{ code: "role-not-in-export", place, what }]);
}

function overlap(place: string, labels: readonly string[]): never {
  const what = `${quoted(labels)} claim the same cases; each case can be one outcome only, so take the words of one out of the other`;
  throw planError([{ code: "outcomes-overlap", place, what }]);
}
