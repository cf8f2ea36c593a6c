import { ArgumentError } from "../../base/errors.ts";
import type { Endpoint, Outcome } from "../../cohort/endpoint.ts";
import { rateTable } from "../../survival/rate-table.ts";
import { powerFault } from "../feasibility/rules.ts";
import type { StudyPlan } from "./plan.ts";

/**
 * Refuses a plan that no export could satisfy.
 *
 * @throws ArgumentError naming the first contradiction and what to change.
 */
export function refuseContradictions(plan: StudyPlan): void {
  outcomes(plan.endpoint);
  groups(plan);
  comparisons(plan);
  eligibility(plan);
  adjusters(plan);
  rates(plan);
  power(plan);
}

function outcomes({ event, competing }: Endpoint): void {
  const all = [event, ...competing];
  const label = repeated(all.map((outcome) => outcome.label));
  if (label !== undefined) {
    refuse(`endpoint names two outcomes "${label}"; give each a label of its own`);
  }
  if (all.filter((outcome) => "death" in outcome).length > 1) {
    refuse("endpoint counts death as two outcomes; keep one of them");
  }
  const status = repeated(all.flatMap((outcome) => ("status" in outcome ? [outcome.status] : [])));
  if (status !== undefined) {
    refuse(`endpoint names the status "${status}" in two outcomes; keep it in one of them`);
  }
  revisions(all.filter((outcome) => "revisionFor" in outcome));
}

function revisions(all: readonly Extract<Outcome, { revisionFor: unknown }>[]): void {
  const any = all.find(({ revisionFor }) => revisionFor === "any");
  if (any !== undefined && all.length > 1) {
    refuse(
      `endpoint "${any.label}" counts revisions for any reason, so no other outcome can count revisions; ` +
        "list its reasons, or leave the other outcomes out",
    );
  }
  if (all.filter(({ revisionFor }) => revisionFor === "other").length > 1) {
    refuse('endpoint uses revisionFor: "other" in two outcomes; list the reasons of one of them');
  }
  const reason = repeated(
    all.flatMap(({ revisionFor }) => (typeof revisionFor === "string" ? [] : revisionFor)),
  );
  if (reason !== undefined) {
    refuse(`endpoint names the reason "${reason}" twice; a revision can be one outcome only`);
  }
}

function groups({ exposure, groupsAreOrdered }: StudyPlan): void {
  if (groupsAreOrdered && ("step" in exposure || exposure.groups.length < 3)) {
    refuse("groupsAreOrdered needs an exposure { field, groups } with at least three groups; leave it out");
  }
  const names = "step" in exposure ? Object.values(exposure.labels ?? {}) : exposure.groups;
  const name = repeated(names);
  if (name !== undefined) refuse(`exposure names the group "${name}" twice; give two that differ`);
}

/** The first group over each of the others is asked in any case. */
function comparisons({ exposure, plannedComparisons }: StudyPlan): void {
  const asked = "step" in exposure ? 1 : exposure.groups.length - 1;
  if (plannedComparisons !== undefined && plannedComparisons < asked) {
    refuse(
      `plannedComparisons counts ${plannedComparisons}, but ${asked + 1} groups make ${asked} here alone; ` +
        `write ${asked} or more, or leave it out`,
    );
  }
}

function eligibility(plan: StudyPlan): void {
  for (const { label, oneOf, from, to } of plan.eligibility) {
    if (from !== undefined && to !== undefined && from > to) {
      refuse(`eligibility "${label}" starts after it ends; exchange from and to`);
    }
    if (oneOf === undefined && from === undefined && to === undefined) {
      refuse(`eligibility "${label}" keeps everything; give oneOf, from or to`);
    }
  }
}

function adjusters({ adjusters: all = [], exposure }: StudyPlan): void {
  for (const { field, settled, curve, reference } of all) {
    if (settled !== "before") {
      refuse(
        `adjusters: "${field}" is settled ${settled} the step, so to adjust for it could take part of the effect away; ` +
          "leave it out, or make it a question of its own",
      );
    }
    if (curve && reference !== undefined) {
      refuse(
        `adjusters: "${field}" has a curve, which numbers take, and a reference, which codes take; keep one`,
      );
    }
    const isExposure =
      "step" in exposure ? field === `role:technique:${exposure.step}` : field === exposure.field;
    if (isExposure) refuse(`adjusters: "${field}" is what the groups are made of; leave it out`);
  }
  const twice = repeated(all.map(({ field }) => field));
  if (twice !== undefined) refuse(`adjusters names "${twice}" twice; keep one`);
}

/** By the rules of the table itself, before any case is read. */
function rates({ expectedRates }: StudyPlan): void {
  if (expectedRates === undefined) return;
  const { bands } = expectedRates;
  rateTable("defineStudy: expectedRates", bands, [...new Set(bands.map(({ sex }) => sex))]);
}

function power({ level = 0.95, feasibility }: StudyPlan): void {
  const fault = powerFault(feasibility, 1 - level);
  if (fault !== undefined) refuse(`feasibility.${fault}`);
}

function repeated(words: readonly string[]): string | undefined {
  return words.find((word, at) => words.indexOf(word) !== at);
}

function refuse(what: string): never {
  throw new ArgumentError(`defineStudy: ${what}`);
}
