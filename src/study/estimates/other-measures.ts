import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { clusteredRate } from "../../survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../survival/clustered-restricted-mean.ts";
import { conditionalSurvival } from "../../survival/conditional-survival.ts";
import { cumulativeHazard } from "../../survival/cumulative-hazard.ts";
import { restrictedMean } from "../../survival/restricted-mean.ts";
import type { SurvivalCurve } from "../../survival/results.ts";
import { smoothedHazard } from "../../survival/smoothed-hazard.ts";
import { timeToFraction } from "../../survival/time-to-fraction.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyData } from "./estimate.ts";
import type { OtherMeasures } from "./estimates.ts";
import { expectedByGroup } from "./expected-by-group.ts";

/** Shares with the event whose time is looked up: outcomes are rare, so a median is never reached. */
const FRACTIONS = [0.01, 0.02, 0.05];
/** "Given nothing by then": most failures of the operation itself lie before, most of the fixation after. */
const GIVEN_YEAR = 2;
const HALF_WINDOW_YEARS = 1;

/** The same question by other measures, each with its own reading. */
export function otherMeasures(
  { cases, compared, counts }: StudyData,
  survival: SurvivalCurve,
  periods: readonly number[],
  facts: StudyFacts,
): OtherMeasures {
  const { level, plan } = facts;
  const event = [facts.cause];
  const { observations } = compared;
  const isClustered = facts.clusters.by !== "none";
  const toYear = plan.years.at(-1) ?? 1;
  return {
    times: FRACTIONS.map((fraction) => timeToFraction(survival, fraction)),
    restrictedMean: isClustered
      ? clusteredRestrictedMean(observations, { toYear, event, level, smallSample: "shares" })
      : restrictedMean(counts, { toYear, event, level }),
    conditional: conditional(),
    cumulativeHazard: cumulativeHazard(counts, { event, level }),
    smoothedHazard: smoothedHazard(counts, { event, level, halfWindowYears: HALF_WINDOW_YEARS }),
    clusteredRates: isClustered
      ? computed(clusteredRate(observations, { event, level, periods, smallSample: "shares" }))
      : notComputed("no-clusters", "the plan takes every row as independent: see the exact rates"),
    ...(plan.expectedRates === undefined
      ? {}
      : { expected: expectedByGroup(cases, compared, plan.expectedRates, facts) }),
  };

  function conditional(): Answer<SurvivalCurve> {
    const years = plan.years.filter((year) => year > GIVEN_YEAR);
    if (years.length === 0) return notComputed("no-later-year", "the plan names no year after the second");
    return computed(conditionalSurvival(counts, { givenYear: GIVEN_YEAR, event, level, years }));
  }
}
