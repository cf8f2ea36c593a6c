import type { Method } from "./check.ts";
import { clusteredChecks } from "./methods/clustered.ts";
import { covariateChecks } from "./methods/covariates.ts";
import { eValueChecks } from "./methods/e-value.ts";
import { fineGrayChecks } from "./methods/fine-gray.ts";
import { followUpChecks } from "./methods/follow-up.ts";
import { frailtyChecks } from "./methods/frailty.ts";
import { grayChecks } from "./methods/gray.ts";
import { hazardModelChecks } from "./methods/hazard-models.ts";
import { incidenceChecks } from "./methods/incidence.ts";
import { kaplanMeierChecks } from "./methods/kaplan-meier.ts";
import { linearLogisticChecks, modelTermChecks } from "./methods/linear-logistic.ts";
import { logRankChecks } from "./methods/log-rank.ts";
import { penalisedChecks } from "./methods/penalised.ts";
import { multiplicityChecks, planningChecks } from "./methods/planning.ts";
import { powerChecks } from "./methods/power.ts";
import { rateChecks } from "./methods/rates.ts";
import { restrictedMeanChecks } from "./methods/restricted-mean.ts";
import { sampleSizeChecks } from "./methods/sample-size.ts";
import { specialFunctionChecks } from "./methods/special-functions.ts";
import { differenceChecks } from "./methods/year-differences.ts";

/** Every method with its checks, computed now, in the order of the report. */
export function verifiedMethods(): readonly Method[] {
  return [
    specialFunctionChecks(),
    kaplanMeierChecks(),
    followUpChecks(),
    logRankChecks(),
    incidenceChecks(),
    grayChecks(),
    differenceChecks(),
    clusteredChecks(),
    restrictedMeanChecks(),
    rateChecks(),
    modelTermChecks(),
    linearLogisticChecks(),
    hazardModelChecks(),
    frailtyChecks(),
    penalisedChecks(),
    fineGrayChecks(),
    covariateChecks(),
    planningChecks(),
    sampleSizeChecks(),
    powerChecks(),
    multiplicityChecks(),
    eValueChecks(),
  ];
}
