import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { isPresent } from "../../base/column.ts";
import type { Cases } from "../../cases/cases.ts";
import { RECORDED_STATE_WORDS, RECORDED_STATES } from "../../cases/recorded-state.ts";
import type { FollowUp } from "../../cohort/cohort.ts";
import type { ExposureGroups } from "../../technique/exposure.ts";
import { namedColumn } from "../../technique/named-column.ts";
import type { RowCodes, UnitCount } from "../../technique/row-codes.ts";
import { stepStates } from "../../technique/step-states.ts";
import type { StudyFacts } from "../facts.ts";
import { type ExposureTables, exposureTables } from "./exposure-tables.ts";
import { type QuestionFeasibility, questionFeasibility } from "./question.ts";
import { type FeasibilityRules, feasibilityRules } from "./rules.ts";

/** What an export could show about a study's own question. */
export interface StudyFeasibility {
  readonly question: QuestionFeasibility;
  readonly rules: FeasibilityRules;
  readonly followed: UnitCount;
  /** Who does the step, where and when; only for technique steps, whose states are recorded. */
  readonly exposure: Omit<ExposureTables, "together"> | undefined;
}

const NOT_RECORDED = RECORDED_STATES.indexOf("notRecorded");
/** A group that the plan does not compare: in no state at all. */
const ANOTHER_GROUP = RECORDED_STATES.length;

/** Total events, group sizes and where the step varies: what happened in which group never enters. */
export function studyFeasibility(
  cases: Cases,
  followUp: FollowUp,
  groups: ExposureGroups,
  facts: StudyFacts,
  periods: readonly number[],
  followed: UnitCount,
  persons: RowCodes,
): Answer<StudyFeasibility> {
  const { plan } = facts;
  if (facts.groups.length > 2) {
    return notComputed("several-groups", "the formula compares two groups; this study has more");
  }
  const { strata = [], ratioThatMatters, ...own } = plan.feasibility ?? {};
  const rules = feasibilityRules(own);
  const isStep = "step" in plan.exposure;
  const states = isStep ? stepStates(cases, plan.exposure.step).states : statesOfGroups(cases, groups, facts);
  const question = questionFeasibility(
    cases,
    followUp,
    {
      title: facts.exposureTitle,
      states,
      stateLabels: [...facts.groups, RECORDED_STATE_WORDS.notApplicable, RECORDED_STATE_WORDS.notRecorded],
      matters:
        ratioThatMatters === undefined ? plan.smallestDifferenceThatMatters : { ratio: ratioThatMatters },
      year: plan.years.at(-1) ?? 0,
      level: (1 - facts.level) / facts.comparisons,
      periods,
      strata,
      crude: facts.crude.computed,
    },
    rules,
    persons,
  );
  const steps = isStep ? [{ step: plan.exposure.step, label: facts.exposureTitle, states }] : [];
  return computed({
    question,
    rules,
    followed,
    exposure: isStep ? exposureTables(cases, followUp.rows, steps, strata, rules, persons) : undefined,
  });
}

/** Groups of a field as if they were done and not done. */
function statesOfGroups(
  cases: Cases,
  { group }: ExposureGroups,
  { plan: { exposure } }: StudyFacts,
): Uint8Array {
  const column = "field" in exposure ? namedColumn(cases, exposure.field, "exposure") : undefined;
  return group.map((code, row) => {
    if (code < 2) return code;
    return column !== undefined && isPresent(column, row) ? ANOTHER_GROUP : NOT_RECORDED;
  });
}
