// Declaring and running a study
export type { ExportWords } from "./study/authoring/export-words.ts";
export { defineReport } from "./study/define-report.ts";
export { defineStudy } from "./study/define-study.ts";
export { defineFeasibility } from "./study/feasibility/define-feasibility.ts";
export type { FeasibilityPlan } from "./study/feasibility/plan.ts";
export { feasibilityFiles } from "./study/feasibility/report.ts";
export { runFeasibility } from "./study/feasibility/run-feasibility.ts";
export { notebookSource } from "./study/notebook-source.ts";
export { observations } from "./study/observations.ts";
export type { OwnSection, StudyMaterial } from "./study/own-section.ts";
export type { StudyPlan } from "./study/plan.ts";
export { runStudy } from "./study/run.ts";

// Disclosure control and reports
export { writeReport } from "./cli/write-report.ts";
export { disclose } from "./disclosure/disclose.ts";
export type { Cell, Exhibit, TableExhibit, TableRow } from "./disclosure/exhibit.ts";
export { countCell, keys as countKeys, noCell, shareCell, sized, textCell } from "./study/cells.ts";
export { compareReports } from "./study/compare-reports.ts";
export { exhibitBlock } from "./study/exhibit-block.ts";
export { reportFiles } from "./study/report-files.ts";

// Case export
export { caseTable } from "./cases/case-table.ts";
export { checkCases } from "./cases/check-cases.ts";
export { readCases } from "./cases/read-cases.ts";

// Who is studied and what was done
export { followUp } from "./cohort/follow-up.ts";
export { followUpLedger, ledgerByGroup } from "./cohort/follow-up-ledger.ts";
export { loosenedComponents } from "./cohort/loosened-components.ts";
export { selectCohort } from "./cohort/select-cohort.ts";
export { exposureGroups } from "./technique/exposure-groups.ts";
export { stepCatalogue } from "./technique/step-catalogue.ts";
export { stepRecording } from "./technique/step-recording.ts";

// Counts by time: from columns, from another engine, from several sources
export { countsSql } from "./cases/counts-sql.ts";
export { readCounts } from "./cases/read-counts.ts";
export { poolCounts } from "./study/pool-counts.ts";
export { addCounts } from "./survival/add-counts.ts";
export { checkObservations } from "./survival/check-observations.ts";
export { countsByTime } from "./survival/counts-by-time.ts";
export { countsFromTable } from "./survival/counts-from-table.ts";

// Survival and time to a fraction
export { clusteredRestrictedMean } from "./survival/clustered-restricted-mean.ts";
export { clusteredSurvival } from "./survival/clustered-survival.ts";
export { conditionalSurvival } from "./survival/conditional-survival.ts";
export { cumulativeHazard } from "./survival/cumulative-hazard.ts";
export { kaplanMeier } from "./survival/kaplan-meier.ts";
export { restrictedMean } from "./survival/restricted-mean.ts";
export { smoothedHazard } from "./survival/smoothed-hazard.ts";
export { timeToFraction } from "./survival/time-to-fraction.ts";

// Competing risks and differences at a year
export { clusteredIncidence } from "./survival/clustered-incidence.ts";
export { cumulativeIncidence } from "./survival/cumulative-incidence.ts";
export { yearDifference } from "./survival/year-difference.ts";

// Tests between groups
export { clusteredLogRank } from "./survival/clustered-log-rank.ts";
export { grayTest } from "./survival/gray-test.ts";
export { logRankTest } from "./survival/log-rank-test.ts";
export { logRankTrend } from "./survival/log-rank-trend.ts";
export { pairwiseLogRank } from "./survival/pairwise-log-rank.ts";

// Rates and follow-up
export { clusteredRate } from "./survival/clustered-rate.ts";
export { completeness } from "./survival/completeness.ts";
export { exactRateComparison } from "./survival/exact-rate-comparison.ts";
export { expectedEvents } from "./survival/expected-events.ts";
export { lossBounds } from "./survival/loss-bounds.ts";
export { observedAgainstExpected } from "./survival/observed-against-expected.ts";
export { reverseFollowUp } from "./survival/reverse-follow-up.ts";
export { revisionRate } from "./survival/revision-rate.ts";

// Model terms
export { modelMatrix } from "./regression/model-terms.ts";
export { categoryTerm } from "./regression/term-category.ts";
export { curveTerm } from "./regression/term-curve.ts";
export { curveBasis } from "./regression/term-curve-basis.ts";
export { interactionTerm } from "./regression/term-interaction.ts";
export { numberTerm } from "./regression/term-number.ts";
export { periodTerm } from "./regression/term-period.ts";

// Hazard models
export { coxConcordance } from "./regression/cox-concordance.ts";
export { coxProfileLimits } from "./regression/cox-profile-limits.ts";
export { coxRegression } from "./regression/cox-regression.ts";
export { coxResiduals } from "./regression/cox-residuals.ts";
export { coxInfluence } from "./regression/cox-row-influence.ts";
export { effectOverTime } from "./regression/effect-over-time.ts";
export { frailtyRegression } from "./regression/frailty-regression.ts";
export { hazardRatiosByPeriod } from "./regression/hazard-ratios-by-period.ts";
export { hazardRatiosWithinBetween } from "./regression/hazard-ratios-within-between.ts";
export { medianHazardRatio } from "./regression/median-hazard-ratio.ts";
export { baselineHazard, predictedCurves } from "./regression/predicted-curves.ts";
export { proportionalHazardsCheck } from "./regression/proportional-hazards-check.ts";
export { asIfInGroup, standardisedCurves } from "./regression/standardised-curves.ts";
export { withinBetween } from "./regression/within-between.ts";

// Regression of crude risk
export { fineGrayRegression } from "./regression/fine-gray-regression.ts";

// Linear and logistic regression
export { linearRegression } from "./regression/linear-regression.ts";
export { logisticRegression } from "./regression/logistic-regression.ts";

// Penalised fits for few events and separation
export { penalisedCox } from "./regression/penalised-cox.ts";
export { penalisedLogistic } from "./regression/penalised-logistic.ts";

// Summaries
export { covariateTable } from "./summaries/covariate-table.ts";
export { proportionInterval } from "./summaries/proportion-interval.ts";
export { standardisedDifference } from "./summaries/standardised-difference.ts";

// Planning
export { adjustForMultiplicity } from "./planning/adjust-for-multiplicity.ts";
export { designEffect } from "./planning/design-effect.ts";
export { detectableHazardRatio } from "./planning/detectable-hazard-ratio.ts";
export { eventsForMeasure } from "./planning/events-for-measure.ts";
export { eventsRequired } from "./planning/events-required.ts";
export { powerOfEvents } from "./planning/power-of-events.ts";
export { simulatedPower } from "./planning/simulated-power.ts";
export { unitsForMeans } from "./planning/units-for-means.ts";
export { unitsForProportion, unitsForProportions } from "./planning/units-for-proportions.ts";
export { unitsRequired } from "./planning/units-required.ts";
export { yearsRequired } from "./planning/years-required.ts";

// Invented data with known truth
export { DEMO_SEED, PLANTED_TRUTH, syntheticExport, syntheticTruth } from "./synthetic/index.ts";

// Times, days and random streams
export { dateOfDay, dayNumber } from "./base/day-number.ts";
export { randomStreams } from "./base/random-streams.ts";
export { TIME_UNITS, tickOfYear } from "./base/time-unit.ts";
