import { computed } from "../../base/answer.ts";
import { once } from "../../base/once.ts";
import type { Cases } from "../../cases/cases.ts";
import { RECORDED_STATE_WORDS } from "../../cases/recorded-state.ts";
import type { Cohort, FollowUp } from "../../cohort/cohort.ts";
import type { CountsByTime } from "../../survival/counts.ts";
import { countsByTime } from "../../survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../survival/cumulative-incidence.ts";
import { kaplanMeier } from "../../survival/kaplan-meier.ts";
import { revisionRate } from "../../survival/revision-rate.ts";
import type { Exposure, ExposureGroups } from "../../technique/exposure.ts";
import { allRows, countUnits, personCodes } from "../../technique/row-codes.ts";
import { stepRecording } from "../../technique/step-recording.ts";
import type { StudyFacts } from "../facts.ts";
import { studyFeasibility } from "../feasibility/study-feasibility.ts";
import type { StudyObservations } from "../observations.ts";
import { adjust } from "./adjust.ts";
import { logRankTests, pairDifferences, periodRatios, rateRatios } from "./compare-groups.ts";
import { covariates } from "./covariates.ts";
import type { RecordedStates, StudyEstimates } from "./estimates.ts";
import { followUpOfGroups } from "./follow-up-of-groups.ts";
import { groupSizes } from "./group-sizes.ts";
import { lossOfGroups } from "./loss-of-groups.ts";
import { mergePeriods } from "./merge-periods.ts";
import { otherMeasures } from "./other-measures.ts";
import { otherTests } from "./other-tests.ts";

/** What the estimators work on. */
export interface StudyData {
  readonly cases: Cases;
  readonly cohort: Cohort;
  readonly followUp: FollowUp;
  readonly groups: ExposureGroups;
  readonly compared: StudyObservations;
  readonly notCompared: StudyObservations | undefined;
  readonly counts: CountsByTime;
}

/** Every number of the study, at full precision. */
export function estimate(data: StudyData, facts: StudyFacts): StudyEstimates {
  const { cases, cohort, followUp, compared, notCompared, counts } = data;
  const { plan, level, cause } = facts;
  const persons = personCodes(cases);
  const event = [cause];
  const periods = mergePeriods(compared.observations, plan.periods);
  const sizes = groupSizes(compared, persons, plan.years, periods);
  const followed = followUpOfGroups(data, persons);
  const rates = revisionRate(counts, { event, periods, level });
  const survival = kaplanMeier(counts, { level, event, years: plan.years });
  return {
    exportSize: countUnits(allRows(cases.rows), persons),
    attrition: cohort.attrition,
    leftOut: countUnits(without(cohort.rows, followUp.rows), persons),
    compared: sizes,
    comparedPersons: countUnits(compared.rows, persons).persons,
    notCompared: notCompared === undefined ? [] : groupSizes(notCompared, persons, plan.years, periods),
    followUp: followed,
    recording: recordedStates(cases, followUp.rows, plan.exposure, facts),
    covariates: covariates(cases, compared, plan.covariates, persons),
    incidence: facts.crude.computed
      ? computed(cumulativeIncidence(counts, { level, years: plan.years }))
      : facts.crude,
    survival,
    pairs: pairDifferences(compared, sizes, facts),
    logRank: logRankTests(compared, counts, facts),
    rateRatios: rateRatios(sizes, followed, facts),
    periodRatios: periodRatios(rates, facts),
    rates,
    notComparedRates:
      notCompared === undefined
        ? undefined
        : revisionRate(countsByTime(notCompared.observations), { event, periods, level }),
    feasibility: studyFeasibility(
      cases,
      followUp,
      data.groups,
      facts,
      periods,
      countUnits(followUp.rows, persons),
      persons,
    ),
    adjusted: adjust(data, persons, periods, facts),
    otherMeasures: once(() => otherMeasures(data, survival, periods, facts)),
    otherTests: once(() => otherTests(compared, counts, facts)),
    loss: once(() => lossOfGroups(data, facts)),
  };
}

function recordedStates(
  cases: Cases,
  rows: Int32Array,
  exposure: Exposure,
  facts: StudyFacts,
): RecordedStates | undefined {
  if (!("step" in exposure)) return undefined;
  const recording = stepRecording(cases, rows, exposure.step);
  const groupOf = { done: facts.groups[0], notDone: facts.groups[1] } as Readonly<
    Record<string, string | undefined>
  >;
  return {
    title: recording.title,
    recordedAfterRevision: recording.recordedAfterRevision,
    writtenLate: recording.writtenLate.map(({ label, units, persons }) => ({
      label,
      size: { units, persons },
    })),
    states: recording.states.map(({ state, label, units, persons }) => ({
      label,
      group: groupOf[state] ?? RECORDED_STATE_WORDS[state],
      size: { units, persons },
    })),
  };
}

/** Rows of the first list that the second, a part of it, lacks. */
function without(all: Int32Array, kept: Int32Array): Int32Array {
  // Both ascend.
  let place = 0;
  return all.filter((row) => {
    const isKept = kept[place] === row;
    if (isKept) place += 1;
    return !isKept;
  });
}
