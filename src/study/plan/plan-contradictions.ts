import { ArgumentError } from "../../base/errors.ts";
import type { PlanFault } from "../../base/plan-fault.ts";
import type { Endpoint, Outcome } from "../../cohort/endpoint.ts";
import { rateTable } from "../../survival/rate-table.ts";
import { powerFault } from "../feasibility/rules.ts";
import type { StudyPlan } from "./plan.ts";
import { comparisonsFault } from "./planned-comparisons.ts";

/** Everything in a plan that no export could satisfy: each place, what contradicts it, and what to change. */
export function planContradictions(plan: StudyPlan): readonly PlanFault[] {
  return [outcomes(plan.endpoint), groups(plan), eligibility(plan), adjusters(plan), settings(plan)]
    .flat()
    .map(([place, what]) => ({ code: "plan-contradicts-itself", place, what }));
}

type Placed = readonly [place: string, what: string];

function outcomes({ event, competing }: Endpoint): Placed[] {
  const all = [event, ...competing];
  const label = repeated(all.map((outcome) => outcome.label));
  const status = repeated(all.flatMap((outcome) => ("status" in outcome ? [outcome.status] : [])));
  const deaths = all.filter((outcome) => "death" in outcome).length;
  const found = [
    label !== undefined && `names two outcomes "${label}"; give each a label of its own`,
    deaths > 1 && "counts death as two outcomes; keep one of them",
    status !== undefined && `names the status "${status}" in two outcomes; keep it in one of them`,
    ...revisions(all.filter((outcome) => "revisionFor" in outcome)),
  ];
  return found.flatMap((what): Placed[] => (what === false ? [] : [["endpoint", what]]));
}

function revisions(all: readonly Extract<Outcome, { revisionFor: unknown }>[]): (string | false)[] {
  const any = all.find(({ revisionFor }) => revisionFor === "any");
  const others = all.filter(({ revisionFor }) => revisionFor === "other").length;
  const listed = all.flatMap(({ revisionFor }) => (typeof revisionFor === "string" ? [] : revisionFor));
  const reason = repeated(listed);
  return [
    any !== undefined &&
      all.length > 1 &&
      `"${any.label}" counts revisions for any reason, so no other outcome can count revisions; ` +
        "list its reasons, or leave the other outcomes out",
    others > 1 && 'uses revisionFor: "other" in two outcomes; list the reasons of one of them',
    reason !== undefined &&
      `names the reason "${reason}" twice; a revision can be one outcome only, so keep one`,
  ];
}

function groups({ exposure, groupsAreOrdered }: StudyPlan): Placed[] {
  const names = "step" in exposure ? Object.values(exposure.labels ?? {}) : exposure.groups;
  const name = repeated(names);
  const isOrderless = "step" in exposure || exposure.groups.length < 3;
  return [
    ...placed(
      groupsAreOrdered && isOrderless && "groupsAreOrdered",
      "needs an exposure { field, groups } with at least three groups; leave it out",
    ),
    ...placed(name !== undefined && "exposure", `names the group "${name}" twice; give two that differ`),
  ];
}

function eligibility(plan: StudyPlan): Placed[] {
  return plan.eligibility.flatMap(({ label, oneOf, from, to }, at) => {
    const place = `eligibility[${at}]`;
    const isEmpty = oneOf === undefined && from === undefined && to === undefined;
    const isTurned = from !== undefined && to !== undefined && from > to;
    return [
      ...placed(isTurned && place, `"${label}" starts after it ends; exchange from and to`),
      ...placed(isEmpty && place, `"${label}" keeps everything; give oneOf, from or to`),
    ];
  });
}

function adjusters({ adjusters: all = [], exposure }: StudyPlan): Placed[] {
  const own = "step" in exposure ? `role:technique:${exposure.step}` : exposure.field;
  return all.flatMap(({ field, settled, curve, reference }, at) => {
    const place = `adjusters[${at}]`;
    return [
      ...placed(
        settled !== "before" && place,
        `"${field}" is settled ${settled} the step, so to adjust for it could take part of the effect away; ` +
          "leave it out, or make it a question of its own",
      ),
      ...placed(
        curve === true && reference !== undefined && place,
        `"${field}" has a curve, which numbers take, and a reference, which codes take; keep one`,
      ),
      ...placed(field === own && place, `"${field}" is what the groups are made of; leave it out`),
      ...placed(
        all.findIndex((one) => one.field === field) < at && place,
        `names "${field}" twice; keep one`,
      ),
    ];
  });
}

/** The first group over each of the others is asked in any case. */
function settings({
  exposure,
  plannedComparisons,
  expectedRates,
  level = 0.95,
  feasibility,
}: StudyPlan): Placed[] {
  const asked = "step" in exposure ? 1 : exposure.groups.length - 1;
  const comparisons = comparisonsFault(plannedComparisons, asked, `${asked + 1} groups make ${asked}`);
  const power = powerFault(feasibility, 1 - level);
  return [
    ...placed(comparisons !== undefined && "plannedComparisons", comparisons ?? ""),
    ...placed(power !== undefined && "feasibility.power", power ?? ""),
    ...rates(expectedRates),
  ];
}

/** By the rules of the table itself, before any case is read. */
function rates(expected: StudyPlan["expectedRates"]): Placed[] {
  if (expected === undefined) return [];
  const place = "expectedRates";
  try {
    rateTable(place, expected.bands, [...new Set(expected.bands.map(({ sex }) => sex))]);
    return [];
  } catch (error) {
    if (!(error instanceof ArgumentError)) throw error;
    return [[place, error.message.slice(`${place}: `.length)]];
  }
}

function placed(place: string | false | undefined, what: string): Placed[] {
  return place === false || place === undefined ? [] : [[place, what]];
}

function repeated(words: readonly string[]): string | undefined {
  return words.find((word, at) => words.indexOf(word) !== at);
}
