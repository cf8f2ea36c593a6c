import type { Method } from "../check.ts";
import { ageAsTime, lungCancer, transplants } from "./hazard-data.ts";
import { copies, noTop, periods, sets, standardised } from "./hazard-identities.ts";
import { pairs, placebo, smallest, stages } from "./hazard-published.ts";

/** Proportional-hazards regression and what is made of a fit. */
export function hazardModelChecks(): Method {
  return {
    id: "hazard-models",
    title: "Proportional-hazards regression: ratios, tests, residuals, curves, change over time",
    functions: [
      "coxRegression",
      "coxProfileLimits",
      "coxResiduals",
      "coxInfluence",
      "coxConcordance",
      "baselineHazard",
      "predictedCurves",
      "standardisedCurves",
      "asIfInGroup",
      "proportionalHazardsCheck",
      "effectOverTime",
      "hazardRatiosByPeriod",
    ],
    notes: [
      "Weighted events of one tick under Efron's rule share their mean weight, on both sides; robust variances carry no small-sample factor.",
      "The check of proportional hazards is the score test with the information at each event, not the older approximation.",
    ],
    examples: [
      placebo(),
      pairs(),
      stages(),
      smallest(),
      lungCancer(),
      transplants(),
      ageAsTime(),
      copies(),
      periods(),
      noTop(),
      sets(),
      standardised(),
    ],
  };
}
