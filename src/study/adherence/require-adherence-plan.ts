import { together } from "../../base/plan-error.ts";
import type { Cases } from "../../cases/cases.ts";
import { eligibilityTest } from "../../cohort/eligibility-test.ts";
import { stratumColumn } from "../../technique/row-levels.ts";
import { stepCodes } from "../../technique/step-states.ts";
import type { AdherencePlan } from "./plan.ts";

/**
 * Refuses a plan of an audit that does not fit its export: all names that the export lacks in one error.
 *
 * @throws UsageError with one fault for each place.
 */
export function requireAdherencePlan(cases: Cases, plan: AdherencePlan): void {
  const { eligibility, steps = [], standards, together: all = [], strata = [] } = plan;
  together([
    ...eligibility.map((rule, at) => () => eligibilityTest(cases, rule, at)),
    ...steps.map((step, at) => () => stepCodes(cases, step, `steps[${at}]`)),
    ...standards.map(
      ({ step }, at) =>
        () =>
          stepCodes(cases, step, `standards[${at}]`),
    ),
    ...all.map((step, at) => () => stepCodes(cases, step, `together[${at}]`)),
    ...strata.map((name, at) => () => stratumColumn(cases, name, `strata[${at}]`)),
  ]);
}
