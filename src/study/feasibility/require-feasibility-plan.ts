import { together } from "../../base/plan-error.ts";
import type { Cases } from "../../cases/cases.ts";
import { eligibilityTest } from "../../cohort/eligibility-test.ts";
import { requireEndpoint } from "../../cohort/follow-up.ts";
import { stratumColumn } from "../../technique/row-levels.ts";
import { stepCodes } from "../../technique/step-states.ts";
import type { FeasibilityPlan } from "./plan.ts";

/**
 * Refuses a plan of questions that does not fit its export: all names that the export lacks in one error.
 *
 * @throws UsageError with one fault for each place.
 */
export function requireFeasibilityPlan(cases: Cases, plan: FeasibilityPlan): void {
  const { eligibility, steps = [], outcomes, strata = [] } = plan;
  together([
    ...eligibility.map((rule, at) => () => eligibilityTest(cases, rule, at)),
    ...steps.map((step, at) => () => stepCodes(cases, step, `steps[${at}]`)),
    ...outcomes.map(
      ({ endpoint }, at) =>
        () =>
          requireEndpoint(cases, endpoint, `outcomes[${at}].endpoint`),
    ),
    ...strata.map((name, at) => () => stratumColumn(cases, name, `strata[${at}]`)),
  ]);
}
