import { UsageError } from "../base/errors.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { codesInWords, quoted } from "../technique/named-column.ts";
import type { Endpoint, Outcome } from "./endpoint.ts";

type RevisionOutcome = Extract<Outcome, { revisionFor: unknown }>;

/** Number of the outcome of each revision reason and of death; 0 censors. */
export interface DateOutcomes {
  readonly ofReason: readonly number[];
  readonly ofUnknownReason: number;
  readonly ofDeath: number;
}

const CENSORED = "censored";

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
 * @throws UsageError where a reason is unknown or the outcomes overlap.
 */
export function dateOutcomes(cases: Cases, endpoint: Endpoint): DateOutcomes {
  const outcomes = outcomesOf(endpoint);
  const numberOf = (meets: (outcome: Outcome) => boolean) => {
    const found = outcomes.filter(meets);
    if (found.length > 1) overlap(found.map(({ label }) => label));
    return 1 + outcomes.findIndex(meets);
  };
  const ofDeath = numberOf((outcome) => "death" in outcome);
  const ofAny = numberOf((outcome) => "revisionFor" in outcome && outcome.revisionFor === "any");
  const ofOther = numberOf((outcome) => "revisionFor" in outcome && outcome.revisionFor === "other");
  const revisions = outcomes.filter((outcome): outcome is RevisionOutcome => "revisionFor" in outcome);
  if (ofAny > 0 && revisions.length > 1) overlap(revisions.map(({ label }) => label));
  if (ofDeath > 0) requireRole(cases, "deathDate");
  if (revisions.length > 0) requireRole(cases, "revisionDate");
  const ofUnknownReason = Math.max(ofAny, ofOther);
  const needsReasons = revisions.some(({ revisionFor }) => revisionFor !== "any");
  return {
    ofReason: needsReasons ? reasonOutcomes(cases, outcomes, ofUnknownReason) : [],
    ofUnknownReason,
    ofDeath,
  };
}

function reasonOutcomes(cases: Cases, outcomes: readonly Outcome[], otherwise: number): number[] {
  const column = columnOfRole(cases, "revisionReason");
  if (column?.kind !== "code") {
    throw new UsageError(
      "role-not-in-export",
      'endpoint: revisions are told apart by reason, but no coded field has the role "revisionReason"; ' +
        'give it in the descriptor, or count revisions for "any" reason',
    );
  }
  const ofReason = column.codes.map(() => 0);
  outcomes.forEach((outcome, at) => {
    if (!("revisionFor" in outcome) || typeof outcome.revisionFor === "string") return;
    for (const reason of outcome.revisionFor) {
      const code = column.codes.indexOf(reason);
      if (code < 0) {
        throw new UsageError(
          "unknown-reason",
          `endpoint "${outcome.label}": "${reason}" is no code of field "${column.field}"; ${codesInWords(cases, column)}`,
        );
      }
      const earlier = ofReason[code] ?? 0;
      if (earlier > 0) overlap([outcomes[earlier - 1]?.label ?? "", outcome.label]);
      ofReason[code] = at + 1;
    }
  });
  return ofReason.map((outcome) => (outcome === 0 ? otherwise : outcome));
}

/**
 * Which outcome each code of the status field is, for exports with durations.
 *
 * @throws UsageError where an outcome is not in the dictionary of the field, or is named twice.
 */
export function statusOutcomes(cases: Cases, endpoint: Endpoint): readonly number[] {
  const column = columnOfRole(cases, "status");
  if (column?.kind !== "code") {
    throw new UsageError(
      "role-not-in-export",
      'endpoint: outcomes are named by status, but no coded field of the export has the role "status"',
    );
  }
  const categories = caseFields(cases.descriptor).find(({ name }) => name === column.field)?.categories ?? [];
  const named = column.codes.map((code) => categories.find(({ value }) => value === code)?.outcome);
  const known = [...new Set(named)].filter((name) => name !== undefined && name !== CENSORED);
  const statuses = outcomesOf(endpoint).map((outcome) => ("status" in outcome ? outcome.status : ""));
  statuses.forEach((status, at) => {
    if (!known.includes(status)) {
      throw new UsageError(
        "unknown-status",
        `endpoint: "${status}" is no outcome of field "${column.field}"; its outcomes are ` +
          quoted(known.map(String)),
      );
    }
    if (statuses.indexOf(status) < at) overlap([status, status]);
  });
  // A code without an outcome in the dictionary is one that the endpoint cannot name, so it censors.
  return named.map((name) => 1 + statuses.indexOf(name ?? CENSORED));
}

function requireRole(cases: Cases, role: "deathDate" | "revisionDate"): void {
  if (columnOfRole(cases, role)?.kind === "day") return;
  throw new UsageError(
    "role-not-in-export",
    `endpoint: no date field of the export has the role "${role}"; give it in the descriptor, or leave that outcome out`,
  );
}

function overlap(labels: readonly string[]): never {
  throw new UsageError(
    "outcomes-overlap",
    `endpoint: ${quoted(labels)} claim the same cases; each case can be one outcome only`,
  );
}
