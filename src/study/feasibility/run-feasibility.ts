import { UsageError } from "../../base/errors.ts";
import { joinFindings } from "../../base/finding-log.ts";
import { checkCases } from "../../cases/check-cases.ts";
import type { ExportDescriptor } from "../../cases/descriptor.ts";
import { readCases } from "../../cases/read-cases.ts";
import { RECORDED_STATE_WORDS, RECORDED_STATES } from "../../cases/recorded-state.ts";
import { followUp as deriveFollowUp } from "../../cohort/follow-up.ts";
import { selectCohort } from "../../cohort/select-cohort.ts";
import type { Exhibit } from "../../disclosure/exhibit.ts";
import { countUnits, personCodes, type UnitCount } from "../../technique/row-codes.ts";
import { crudeRisk } from "../estimates/crude-risk.ts";
import { exportPath, type NotebookSource } from "../notebook/notebook-source.ts";
import { type RunHashes, runHashes } from "../notebook/run-hashes.ts";
import { plannedComparisons } from "../plan/planned-comparisons.ts";
import { recordedSteps } from "../recorded-steps.ts";
import { refuseErrors } from "../refuse-errors.ts";
import type { FeasibilityStudy } from "./define-feasibility.ts";
import { feasibilityExhibits } from "./exhibits/all.ts";
import { type ExposureTables, exposureTables } from "./exposure-tables.ts";
import type { AskedOutcome, FeasibilityPlan } from "./plan.ts";
import { type QuestionFeasibility, questionFeasibility } from "./question.ts";
import { requireFeasibilityPlan } from "./require-feasibility-plan.ts";
import { type FeasibilityRules, feasibilityRules } from "./rules.ts";

/** Everything a page on feasibility is made from, at full precision. */
export interface FeasibilityRun {
  readonly plan: FeasibilityPlan;
  readonly notebook: NotebookSource;
  readonly descriptor: ExportDescriptor;
  readonly hashes: RunHashes;
  readonly rules: FeasibilityRules;
  /** Comparisons counted in, and the chance of a false alarm left for each. */
  readonly comparisons: number;
  readonly level: number;
  readonly followed: UnitCount;
  /** Operations a year among those followed; null where the export holds no dates. */
  readonly unitsPerYear: number | null;
  readonly outcomes: readonly {
    readonly asked: AskedOutcome;
    readonly questions: readonly QuestionFeasibility[];
  }[];
  readonly exposure: ExposureTables;
  readonly exhibits: readonly Exhibit[];
}

/**
 * Runs every question of a plan from the export to its exhibits, before any result is looked at.
 *
 * @throws UsageError where the export cannot be used, records no step, or nobody is left to study.
 */
export async function runFeasibility(
  { plan }: FeasibilityStudy,
  notebook: NotebookSource,
): Promise<FeasibilityRun> {
  const cases = await readCases(exportPath(plan, notebook));
  requireFeasibilityPlan(cases, plan);
  refuseErrors(joinFindings(cases.findings, checkCases(cases)));
  const cohort = selectCohort(cases, plan.eligibility);
  const steps = recordedSteps(cases, plan.steps);
  const persons = personCodes(cases);
  const rules = feasibilityRules(plan.rules);
  const comparisons = plannedComparisons(plan, steps.length * plan.outcomes.length);
  const level = (plan.falseAlarm ?? 0.05) / comparisons;
  const outcomes = plan.outcomes.map((asked) => {
    const followUp = deriveFollowUp(cases, cohort, asked.endpoint);
    const questions = steps.map(({ label, states }) =>
      questionFeasibility(
        cases,
        followUp,
        {
          title: label,
          states,
          stateLabels: RECORDED_STATES.map((state) => `${label}: ${RECORDED_STATE_WORDS[state]}`),
          matters: asked.smallestDifferenceThatMatters,
          year: asked.year,
          level,
          periods: asked.periods ?? [],
          strata: plan.strata ?? [],
          crude: crudeRisk(cases, asked.endpoint).computed,
        },
        rules,
        persons,
      ),
    );
    return { asked, questions, rows: followUp.rows };
  });
  const rows = outcomes[0]?.rows ?? cohort.rows;
  if (rows.length === 0) {
    throw new UsageError(
      "nobody-followed",
      "eligibility: nobody is left with time under observation; change the rules or the export",
    );
  }
  const operationYears = outcomes[0]?.questions[0]?.variation.operationYears;
  const run = {
    plan,
    notebook,
    descriptor: cases.descriptor,
    hashes: runHashes(cases, plan, notebook),
    rules,
    comparisons,
    level,
    followed: countUnits(rows, persons),
    unitsPerYear: operationYears?.computed ? rows.length / operationYears.years : null,
    outcomes: outcomes.map(({ asked, questions }) => ({ asked, questions })),
    exposure: exposureTables(cases, rows, steps, plan.strata ?? [], rules, persons),
  };
  return { ...run, exhibits: feasibilityExhibits(run) };
}
