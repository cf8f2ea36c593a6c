// Declaring and running a study

// Times, days and random streams
export { dateOfDay, dayNumber } from "./base/day-number.ts";
export { randomStreams } from "./base/random-streams.ts";
export { TIME_UNITS, tickOfYear } from "./base/time-unit.ts";
// Case export
export { caseTable } from "./cases/case-table.ts";
export { checkCases } from "./cases/check-cases.ts";
export { countsSql } from "./cases/counts-sql.ts";
export { readCases } from "./cases/read-cases.ts";
export { writeReport } from "./cli/write-report.ts";
// Who is studied and what was done
export { followUp } from "./cohort/follow-up.ts";
export { selectCohort } from "./cohort/select-cohort.ts";
// Disclosure control
export { disclose } from "./disclosure/disclose.ts";
export type { Exhibit } from "./disclosure/exhibit.ts";
// Summaries and planning
export { adjustForMultiplicity } from "./planning/adjust-for-multiplicity.ts";
export { designEffect } from "./planning/design-effect.ts";
export { detectableHazardRatio } from "./planning/detectable-hazard-ratio.ts";
export { eventsRequired } from "./planning/events-required.ts";
export { compareReports } from "./study/compare-reports.ts";
export { defineReport } from "./study/define-report.ts";
export { defineStudy } from "./study/define-study.ts";
export { notebookSource } from "./study/notebook-source.ts";
export { observations } from "./study/observations.ts";
export type { StudyPlan } from "./study/plan.ts";
export { reportFiles } from "./study/report-files.ts";
export { runStudy } from "./study/run.ts";
export { covariateTable } from "./summaries/covariate-table.ts";
export { proportionInterval } from "./summaries/proportion-interval.ts";
export { standardisedDifference } from "./summaries/standardised-difference.ts";
export { addCounts } from "./survival/add-counts.ts";
// Survival
export { checkObservations } from "./survival/check-observations.ts";
export { clusteredLogRank } from "./survival/clustered-log-rank.ts";
export { completeness } from "./survival/completeness.ts";
export { countsByTime } from "./survival/counts-by-time.ts";
export { countsFromTable } from "./survival/counts-from-table.ts";
export { cumulativeIncidence } from "./survival/cumulative-incidence.ts";
export { exactRateComparison } from "./survival/exact-rate-comparison.ts";
export { kaplanMeier } from "./survival/kaplan-meier.ts";
export { logRankTest } from "./survival/log-rank-test.ts";
export { reverseFollowUp } from "./survival/reverse-follow-up.ts";
export { revisionRate } from "./survival/revision-rate.ts";
export { timeToFraction } from "./survival/time-to-fraction.ts";
export { yearDifference } from "./survival/year-difference.ts";
// Invented data with known truth
export { DEMO_SEED, PLANTED_TRUTH, syntheticExport, syntheticTruth } from "./synthetic/index.ts";
export { exposureGroups } from "./technique/exposure-groups.ts";
export { stepRecording } from "./technique/step-recording.ts";
