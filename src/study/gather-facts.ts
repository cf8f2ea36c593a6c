import type { Findings } from "../base/finding.ts";
import type { Cases } from "../cases/cases.ts";
import type { FollowUp } from "../cohort/cohort.ts";
import type { ExposureGroups } from "../technique/exposure.ts";
import { crudeRisk } from "./estimates/crude-risk.ts";
import type { ClusterChoice, StudyFacts } from "./facts.ts";
import { lockState } from "./locking/lock-state.ts";
import { mantleVersion } from "./notebook/mantle-version.ts";
import type { NotebookSource } from "./notebook/notebook-source.ts";
import { runHashes } from "./notebook/run-hashes.ts";
import type { StudyPlan } from "./plan/plan.ts";
import { plannedComparisons } from "./plan/planned-comparisons.ts";

/** What is known once everybody is in a group and followed. */
export interface KnownSoFar {
  readonly plan: StudyPlan;
  readonly notebook: NotebookSource;
  readonly cases: Cases;
  readonly findings: Findings;
  readonly groups: ExposureGroups;
  readonly followUp: FollowUp;
  readonly choice: ClusterChoice;
}

/** Puts together what the report says about a run that is not a statistic. */
export function gatherFacts(known: KnownSoFar): StudyFacts {
  const { plan, notebook, cases, findings, groups, followUp, choice } = known;
  const { study } = cases.descriptor;
  const [cause = "event", ...competing] = followUp.outcomes;
  const revisions = "revisionFor" in plan.endpoint.event;
  return {
    plan,
    descriptor: cases.descriptor,
    level: plan.level ?? 0.95,
    comparisons: plannedComparisons(plan, groups.labels.length - 1),
    words: {
      unit: study.unit,
      person: study.person,
      event:
        plan.eventWords ??
        (revisions ? { one: "revision", many: "revisions" } : { one: "event", many: "events" }),
    },
    stamp: study.invented ? (study.stamp ?? "Invented data") : undefined,
    exposureTitle: groups.title,
    groups: groups.labels,
    cause,
    competing,
    timeUnit: followUp.timeUnit,
    crude: crudeRisk(cases, plan.endpoint),
    delayedEntry: followUp.entry !== undefined,
    hasDates: cases.fieldOfRole.has("operationDate"),
    lossDays: followUp.lossTicks,
    clusters: choice,
    hashes: runHashes(cases, plan, notebook),
    planLock: lockState(plan, notebook),
    mantleVersion: mantleVersion(),
    notebook,
    fileName: cases.source.fileName,
    findings,
  };
}
