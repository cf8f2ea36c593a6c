import { together } from "../../base/plan-error.ts";
import type { Cases } from "../../cases/cases.ts";
import { eligibilityTest } from "../../cohort/eligibility-test.ts";
import { requireEndpoint } from "../../cohort/follow-up.ts";
import { requireExposure } from "../../technique/exposure-groups.ts";
import { stratumColumn } from "../../technique/row-levels.ts";
import { requireClusters } from "../cluster-choice.ts";
import { requireAdjuster } from "../estimates/adjuster-field.ts";
import { covariateColumn } from "../estimates/covariates.ts";
import type { StudyPlan } from "./plan.ts";
import { requireRates } from "./require-rates.ts";

/**
 * Refuses a plan that does not fit its export: all names that the export lacks, and all that do not fit their place, in one
 * error. Nothing is counted yet.
 *
 * @throws UsageError with one fault for each place.
 */
export function requirePlan(cases: Cases, plan: StudyPlan): void {
  const { eligibility, exposure, endpoint, covariates, adjusters = [], feasibility } = plan;
  together([
    ...eligibility.map((rule, at) => () => eligibilityTest(cases, rule, at)),
    () => requireExposure(cases, exposure),
    () => requireEndpoint(cases, endpoint),
    ...covariates.map((name, at) => () => covariateColumn(cases, name, `covariates[${at}]`)),
    ...adjusters.map((adjuster, at) => () => requireAdjuster(cases, adjuster, `adjusters[${at}]`)),
    () => requireClusters(cases, plan),
    () => requireRates(cases, plan),
    ...(feasibility?.strata ?? []).map((name, at) => () => {
      stratumColumn(cases, name, `feasibility.strata[${at}]`);
    }),
  ]);
}
