import { UsageError } from "../../base/errors.ts";
import { nearestWord } from "../../base/nearest-word.ts";
import type { ExportDescriptor } from "../../cases/descriptor.ts";
import { caseFields } from "../../cases/descriptor-rules.ts";
import { reasonWords } from "../../cases/reason-words.ts";
import type { CensoringRule, Endpoint, Outcome } from "../../cohort/endpoint.ts";
import type { AskedOutcome, FeasibilityPlan } from "./plan.ts";

/** What a person may add to a descriptor. */
export interface AskedOfDescriptor {
  readonly id: string;
  readonly export: string;
  /** Reason for revision, or name of what ended follow-up; default loosening where it is coded, else any revision. */
  readonly outcome?: string;
  readonly matters: AskedOutcome["smallestDifferenceThatMatters"];
  readonly year: number;
  readonly periods: readonly number[];
  readonly strata: readonly string[];
  readonly plannedComparisons?: number;
}

const LOOSENING = "loosening";
const CENSORED = "censored";

/**
 * The questions that an export can be asked without a notebook: every step it records, one outcome, everybody in it.
 *
 * @throws UsageError `no-outcome` or `unknown-outcome`, naming what the dictionary lists.
 */
export function planFromDescriptor(descriptor: ExportDescriptor, asked: AskedOfDescriptor): FeasibilityPlan {
  const { matters, year, periods, strata, plannedComparisons } = asked;
  return {
    id: asked.id,
    title: `What can be asked of “${descriptor.title}”?`,
    export: asked.export,
    eligibility: [],
    outcomes: [
      {
        endpoint: endpointOf(descriptor, asked.outcome),
        year,
        smallestDifferenceThatMatters: matters,
        periods,
      },
    ],
    strata,
    ...(plannedComparisons === undefined ? {} : { plannedComparisons }),
  };
}

function endpointOf(descriptor: ExportDescriptor, wanted: string | undefined): Endpoint {
  const outcomes = revisionOutcomes(descriptor, wanted) ?? statusOutcomes(descriptor, wanted);
  if (outcomes === undefined) {
    throw new UsageError(
      "no-outcome",
      'The dictionary has no field with the role "revisionDate" or "status", so no outcome can be counted; give the field its role',
    );
  }
  const [event, ...competing] = outcomes;
  return { event, competing, censoring: censoringOf(descriptor) };
}

type Outcomes = readonly [Outcome, ...Outcome[]];

function revisionOutcomes(descriptor: ExportDescriptor, wanted: string | undefined): Outcomes | undefined {
  // Revisions and deaths may stand in tables of their own.
  const fields = descriptor.resources.flatMap(({ schema }) => schema.fields);
  if (!fields.some(({ role }) => role === "revisionDate")) return undefined;
  const reasons = reasonWords(descriptor).map(({ value }) => value);
  const reason = wanted ?? (reasons.includes(LOOSENING) ? LOOSENING : "any");
  const deaths: Outcome[] = fields.some(({ role }) => role === "deathDate")
    ? [{ label: "death", death: true }]
    : [];
  if (reason === "any") return [{ label: "revision for any reason", revisionFor: "any" }, ...deaths];
  if (!reasons.includes(reason)) throw unknownOutcome(reason, ["any", ...reasons]);
  return [
    { label: reason === LOOSENING ? "aseptic loosening" : reason, revisionFor: [reason] },
    { label: "revision for another reason", revisionFor: "other" },
    ...deaths,
  ];
}

function statusOutcomes(descriptor: ExportDescriptor, wanted: string | undefined): Outcomes | undefined {
  const status = caseFields(descriptor).find(({ role }) => role === "status");
  const named = (status?.categories ?? []).flatMap(({ outcome }) =>
    outcome === undefined || outcome === CENSORED ? [] : [outcome],
  );
  const names = [...new Set(named)];
  const event = wanted ?? names[0];
  if (event === undefined) return undefined;
  if (!names.includes(event)) throw unknownOutcome(event, names);
  const others = names.filter((name) => name !== event);
  return [{ label: event, status: event }, ...others.map((name): Outcome => ({ label: name, status: name }))];
}

function censoringOf({ study }: ExportDescriptor): CensoringRule {
  const seenEverywhere = study.revisionCapture === "national" && study.deathCapture === "national";
  return seenEverywhere && study.dataCut !== undefined ? "dataCut" : "lastContact";
}

function unknownOutcome(outcome: string, known: readonly string[]): UsageError {
  const nearest = nearestWord(outcome, known);
  const meant = nearest === undefined ? "" : `did you mean "${nearest}"? `;
  return new UsageError(
    "unknown-outcome",
    `--outcome: the dictionary does not know "${outcome}"; ${meant}it lists ${known.map((one) => `"${one}"`).join(", ")}`,
  );
}
