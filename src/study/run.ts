import { joinFindings } from "../base/finding-log.ts";
import { checkCases } from "../cases/check-cases.ts";
import { readCases } from "../cases/read-cases.ts";
import { followUp as deriveFollowUp } from "../cohort/follow-up.ts";
import { selectCohort } from "../cohort/select-cohort.ts";
import type { Exhibit } from "../disclosure/exhibit.ts";
import { countsByTime } from "../survival/counts-by-time.ts";
import { exposureGroups } from "../technique/exposure-groups.ts";
import { chooseClusters } from "./cluster-choice.ts";
import { estimate } from "./estimates/estimate.ts";
import type { StudyEstimates } from "./estimates/estimates.ts";
import { type StudyFacts, safeFacts } from "./facts.ts";
import { gatherFacts } from "./gather-facts.ts";
import { ownExhibits } from "./making/own-section.ts";
import { exportPath, type NotebookSource } from "./notebook/notebook-source.ts";
import { notComparedObservations, observations } from "./observations.ts";
import type { Study } from "./plan/define-study.ts";
import type { StudyPlan } from "./plan/plan.ts";
import { requirePlan } from "./plan/require-plan.ts";
import { refuseEmptyGroups } from "./refuse-empty-groups.ts";
import { refuseErrors } from "./refuse-errors.ts";
import { SECTIONS } from "./sections/sections.ts";

/** A study that was run: its numbers at full precision, and what the report wants to show of them. */
export interface StudyRun {
  readonly study: Study;
  readonly facts: StudyFacts;
  readonly estimates: StudyEstimates;
  /** Before disclosure control. */
  readonly exhibits: readonly Exhibit[];
}

/**
 * Runs a study from its export to its exhibits. This is the whole program; each line is one room of the house.
 *
 * @example
 * const study = defineStudy({
 *   id: "women-and-men",
 *   title: "Women and men",
 *   question: "Do women or men go on to a malignancy more often?",
 *   export: "../data/mgus2/datapackage.json",
 *   eligibility: [],
 *   exposure: { field: "sex", groups: ["F", "M"] },
 *   endpoint: {
 *     event: { label: "malignancy", status: "malignancy" },
 *     competing: [{ label: "death", status: "death" }],
 *     censoring: "lastContact",
 *   },
 *   years: [5],
 *   periods: [],
 *   covariates: [],
 *   smallestDifferenceThatMatters: { per1000: 50, reason: "an example" },
 * });
 * const run = await runStudy(study, notebookSource("notebooks/gammopathy-and-sex.ts"));
 * run.estimates.compared; // "women": 631, "men": 753
 *
 * @throws UsageError where the export, the plan or the two together cannot be used, after all findings are collected.
 */
export async function runStudy(study: Study, notebook: NotebookSource): Promise<StudyRun> {
  const { plan } = study;
  const cases = await readCases(exportPath(plan, notebook));
  requirePlan(cases, plan);
  const findings = refuseErrors(joinFindings(cases.findings, checkCases(cases)));
  const cohort = selectCohort(cases, plan.eligibility);
  const groups = exposureGroups(cases, plan.exposure);
  const followUp = deriveFollowUp(cases, cohort, plan.endpoint, lossOptions(plan));
  const { choice, clusters } = chooseClusters(cases, plan, followUp.rows, groups);
  const compared = refuseEmptyGroups(observations(followUp, groups, clusters));
  const notCompared = notComparedObservations(followUp, groups);
  const counts = countsByTime(compared.observations);
  const facts = gatherFacts({
    plan,
    notebook,
    cases,
    findings: joinFindings(findings, followUp.findings),
    groups,
    followUp,
    choice,
  });
  const estimates = estimate({ cases, cohort, followUp, groups, compared, notCompared, counts }, facts);
  const own = ownExhibits(study.sections ?? [], { cases, compared, estimates, facts: safeFacts(facts) });
  const exhibits = [...SECTIONS.flatMap((section) => section.exhibits(estimates, facts)), ...own];
  return { study, facts, estimates, exhibits };
}

function lossOptions({ lossDays }: StudyPlan): { readonly lossDays?: number } {
  return lossDays === undefined ? {} : { lossDays };
}
