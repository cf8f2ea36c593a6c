// Declaring and running a study
export type { ExportWords } from "./study/authoring/export-words.ts";
export { defineReport } from "./study/notebook/define-report.ts";
export { defineStudy } from "./study/plan/define-study.ts";
export { defineAdherence } from "./study/adherence/define-adherence.ts";
export type { AdherencePlan } from "./study/adherence/plan.ts";
export { adherenceFiles } from "./study/adherence/report.ts";
export { runAdherence } from "./study/adherence/run-adherence.ts";
export { defineFeasibility } from "./study/feasibility/define-feasibility.ts";
export type { FeasibilityPlan } from "./study/feasibility/plan.ts";
export { feasibilityFiles } from "./study/feasibility/report.ts";
export { runFeasibility } from "./study/feasibility/run-feasibility.ts";
export { notebookSource } from "./study/notebook/notebook-source.ts";
export { observations } from "./study/observations.ts";
export type { OwnSection, StudyMaterial } from "./study/making/own-section.ts";
export type { StudyPlan } from "./study/plan/plan.ts";
export { runStudy } from "./study/run.ts";

// Disclosure control and reports
export { writeReport } from "./cli/write-report.ts";
export { disclose } from "./disclosure/disclose.ts";
export type { Cell, Exhibit, TableExhibit, TableRow } from "./disclosure/exhibit.ts";
export { countCell, keys as countKeys, noCell, shareCell, sized, textCell } from "./study/sections/cells.ts";
export { compareReports } from "./study/comparing/compare-reports.ts";
export { exhibitBlock } from "./study/making/exhibit-block.ts";
export { reportFiles } from "./study/making/report-files.ts";

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
export { poolCounts } from "./study/pool/pool-counts.ts";
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
export { eValue } from "./summaries/e-value.ts";
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

// Types of arguments and results
export type { Answer, NotComputed } from "./base/answer.ts";
export type { CodeColumn, Column, DayColumn, NumberColumn, TextColumn } from "./base/column.ts";
export type { Finding, FindingGroup, Findings } from "./base/finding.ts";
export type { RandomStream } from "./base/random-streams.ts";
export type { TimeUnit } from "./base/time-unit.ts";
export type { Cases } from "./cases/cases.ts";
export type { CountsSqlOptions } from "./cases/counts-sql.ts";
export type { LinkageCounts } from "./cases/linked-rows.ts";
export type { CountsFileRow } from "./cases/read-counts-rules.ts";
export type { CountsFile } from "./cases/read-counts.ts";
export type { REVISION_REASONS, RevisionReason } from "./cases/revision-reasons.ts";
export type { CASE_ROLES, CaseRole, FieldRole, TECHNIQUE_STEPS, TechniqueStep } from "./cases/roles.ts";
export type { FilePart } from "./cases/tables/joined-table.ts";
export type { TickedReasons } from "./cases/ticked-reasons.ts";
export type { AttritionStep, Cohort, EligibilityRule, FollowUp } from "./cohort/cohort.ts";
export type { Endpoint, Outcome } from "./cohort/endpoint.ts";
export type { FollowUpLedger, LEDGER_SOURCES, LedgerGroup, LedgerSource } from "./cohort/follow-up-ledger.ts";
export type { FollowUpOptions } from "./cohort/follow-up.ts";
export type { LoosenedComponents } from "./cohort/loosened-components.ts";
export type {
  Cleared,
  ClearedCell,
  ClearedCurve,
  ClearedCurves,
  ClearedExhibit,
  ClearedExhibits,
  ClearedFlow,
  ClearedLandmarks,
  ClearedLines,
  ClearedTable,
  DisclosureAct,
} from "./disclosure/cleared.ts";
export type {
  AnalystExhibits,
  Count,
  CurveExhibit,
  ExhibitCurve,
  ExhibitLine,
  FlowBox,
  FlowExhibit,
  LineExhibit,
  LineSubject,
  Relation,
  TablePicture,
} from "./disclosure/exhibit.ts";
export type { FitReport } from "./numeric/newton.ts";
export type { AdjustedPValues } from "./planning/adjust-for-multiplicity.ts";
export type { ClusterSizes, DesignEffect } from "./planning/design-effect.ts";
export type { DetectableHazardRatio, DetectableRatioInput } from "./planning/detectable-hazard-ratio.ts";
export type { EventsForMeasure, MeasureInput } from "./planning/events-for-measure.ts";
export type { EventsRequired, EventsRequiredInput } from "./planning/events-required.ts";
export type { PowerInput, PowerOfEvents } from "./planning/power-of-events.ts";
export type { SimulatedPower, SimulationInput } from "./planning/simulated-power.ts";
export type { MeansInput, TwoGroups } from "./planning/units-for-means.ts";
export type { ProportionsInput, UnitsForProportion } from "./planning/units-for-proportions.ts";
export type { UnitsRequired, UnitsRequiredInput } from "./planning/units-required.ts";
export type { YearsRequired, YearsRequiredInput } from "./planning/years-required.ts";
export type { Coefficient, FittedColumn, FittedTerm, Separation } from "./regression/coefficient.ts";
export type { Concordance } from "./regression/cox-concordance.ts";
export type { CoxOptions } from "./regression/cox-options.ts";
export type { ProfileLimits, ProfileLimitsOptions, ProfiledRatio } from "./regression/cox-profile-limits.ts";
export type { CoxResiduals } from "./regression/cox-residuals.ts";
export type {
  CoxColumn,
  CoxFit,
  FitNote,
  HazardRatio,
  ModelTest,
  SeparatedColumn,
  TermTest,
} from "./regression/cox-result.ts";
export type { CoxInfluence } from "./regression/cox-row-influence.ts";
export type { EffectAt, EffectOverTime, EffectOverTimeOptions } from "./regression/effect-over-time.ts";
export type { FineGrayFit, FineGrayOptions } from "./regression/fine-gray-regression.ts";
export type { FrailtyOptions } from "./regression/frailty-regression.ts";
export type { FrailtyFit, FrailtyNote, ProfiledNumber } from "./regression/frailty-result.ts";
export type {
  HazardRatiosByPeriod,
  PeriodRatios as HazardPeriodRatios,
  PeriodOptions,
} from "./regression/hazard-ratios-by-period.ts";
export type {
  HazardRatiosWithinBetween,
  WithinBetweenOptions,
} from "./regression/hazard-ratios-within-between.ts";
export type { LinearFit, LinearOptions } from "./regression/linear-regression.ts";
export type { LogisticFit, LogisticOptions } from "./regression/logistic-regression.ts";
export type { ModelColumn, ModelMatrix, ModelTerm, RowsLost } from "./regression/model-matrix.ts";
export type { ModelMatrixOptions } from "./regression/model-terms.ts";
export type { OutcomeColumns } from "./regression/outcome-rows.ts";
export type { PenalisedCoxFit, PenalisedCoxOptions } from "./regression/penalised-cox.ts";
export type { PenalisedLogisticFit, PenalisedLogisticOptions } from "./regression/penalised-logistic.ts";
export type {
  PredictedCurve,
  PredictedCurves,
  PredictedCurvesOptions,
  PredictedValue,
} from "./regression/predicted-curves.ts";
export type { ProportionalHazardsCheck } from "./regression/proportional-hazards-check.ts";
export type {
  StandardisedCurves,
  StandardisedCurvesOptions,
  StandardisedRisk,
  StandardisedYear,
} from "./regression/standardised-curves.ts";
export type { CategoryTermOptions } from "./regression/term-category.ts";
export type { ColumnOf, NamedColumns } from "./regression/term-columns.ts";
export type { CurveTermOptions } from "./regression/term-curve.ts";
export type { NumberTermOptions } from "./regression/term-number.ts";
export type { PeriodTermOptions } from "./regression/term-period.ts";
export type { BuiltTerm, TermPlan } from "./regression/term-plan.ts";
export type { VarianceSettings } from "./regression/variance-of-fit.ts";
export type { WithinBetween } from "./regression/within-between.ts";
export type { Block, Figure, PlotArea, Prose, Run } from "./report/block.ts";
export type { PlanFor } from "./study/authoring/plan-for.ts";
export type { ReportFolder } from "./study/comparing/compare-reports.ts";
export type { ReportDifference } from "./study/comparing/difference.ts";
export type { OwnReport, ReportDeclaration } from "./study/notebook/define-report.ts";
export type { Study, StudyDeclaration } from "./study/plan/define-study.ts";
export type {
  Adjusted,
  AdjustedModel,
  CauseFit,
  ExpectedGroup,
  GroupFollowUp,
  GroupSize,
  ModelChecks,
  ModelRows,
  OtherFits,
  OtherMeasures,
  OtherTests,
  PairDifferences,
  PeriodRatios,
  RateRatio,
  RecordedStates,
  Size,
  StudyEstimates,
} from "./study/estimates/estimates.ts";
export type { ClusterChoice, StudyFacts } from "./study/facts.ts";
export type { AllSteps, Together } from "./study/adherence/all-steps.ts";
export type { ChangeOfStep, ChangeReading } from "./study/adherence/change-of-step.ts";
export type { AdherenceStudy } from "./study/adherence/define-adherence.ts";
export type { Change, Standard } from "./study/adherence/plan.ts";
export type { Reading } from "./study/adherence/reading.ts";
export type { AdherenceRun, SharesAtLevels, StepAdherence } from "./study/adherence/run-adherence.ts";
export type { ShareBounds, StepShares } from "./study/adherence/step-shares.ts";
export type { FeasibilityStudy } from "./study/feasibility/define-feasibility.ts";
export type { ExposureTables, StatesAtLevels } from "./study/feasibility/exposure-tables.ts";
export type { OtherMeasure } from "./study/feasibility/other-measures.ts";
export type { AskedOutcome } from "./study/feasibility/plan.ts";
export type { QuestionFeasibility, Showable, ShowableWithin } from "./study/feasibility/question.ts";
export type { Matters } from "./study/feasibility/ratio-that-matters.ts";
export type { FeasibilityRules } from "./study/feasibility/rules.ts";
export type { FeasibilityRun } from "./study/feasibility/run-feasibility.ts";
export type { StudyFeasibility } from "./study/feasibility/study-feasibility.ts";
export type { Variation, WhereBoth } from "./study/feasibility/variation.ts";
export type { Overlap, Standing, Verdict } from "./study/feasibility/verdict.ts";
export type { SafeFacts } from "./study/facts.ts";
export type { ImportedFile } from "./study/notebook/imported-files.ts";
export type { LockState } from "./study/locking/lock-state.ts";
export type { LockStatements } from "./study/locking/plan-lock.ts";
export type { NotebookSource } from "./study/notebook/notebook-source.ts";
export type { RowClusters, StudyObservations } from "./study/observations.ts";
export type { Adjuster } from "./study/plan/plan.ts";
export type { PooledCounts } from "./study/pool/pool-counts.ts";
export type { ReportFiles } from "./study/making/report-files.ts";
export type { StudyRun } from "./study/run.ts";
export type { Figures } from "./study/making/section.ts";
export type { ClearedView } from "./study/making/view.ts";
export type { BetweenGroupShare } from "./summaries/between-group-share.ts";
export type { CellCount } from "./summaries/covariate-cells.ts";
export type {
  CodeCovariate,
  Covariate,
  CovariateRow,
  CovariateTable,
  CovariateTableInput,
  MissingCounts,
  NumberCovariate,
  PairDifference,
} from "./summaries/covariate-table.ts";
export type { NumberSummary } from "./summaries/describe-numbers.ts";
export type {
  PROPORTION_METHODS,
  ProportionInterval,
  ProportionMethod,
  ProportionOptions,
} from "./summaries/proportion-interval.ts";
export type {
  NumberDifferenceOptions,
  Part,
  StandardisedDifference,
} from "./summaries/standardised-difference.ts";
export type {
  ClusteredRate,
  ClusteredRateComparison,
  ClusteredRateOptions,
  ClusteredRatePeriod,
} from "./survival/clustered-rate.ts";
export type { ClusteredRestrictedMeanOptions } from "./survival/clustered-restricted-mean.ts";
export type { Completeness } from "./survival/completeness.ts";
export type { ConditionalSurvivalOptions } from "./survival/conditional-survival.ts";
export type { Contrast, DifferenceContrast } from "./survival/contrast.ts";
export type { CountRow, CountTableOptions } from "./survival/counts-from-table.ts";
export type { CountsByTime, CountsCell } from "./survival/counts.ts";
export type { CumulativeHazard, HazardOptions, HazardSteps } from "./survival/cumulative-hazard.ts";
export type { IncidenceOptions } from "./survival/cumulative-incidence.ts";
export type { DrawnTo } from "./survival/drawn-to.ts";
export type { ObservedRate, RateComparison } from "./survival/exact-rate-comparison.ts";
export type {
  ExpectedCount,
  ExpectedEvents,
  ExpectedOptions,
  ExpectedRows,
  MissingRate,
} from "./survival/expected-events.ts";
export type { GrayOptions, GrayTest } from "./survival/gray-test.ts";
export type { CurveOptions } from "./survival/kaplan-meier.ts";
export type { LogRankOptions } from "./survival/log-rank-test.ts";
export type { LogRankTrend, TrendOptions } from "./survival/log-rank-trend.ts";
export type { LogRankWeighting, NAMED_WEIGHTINGS } from "./survival/log-rank-weighting.ts";
export type { LossBounds, LossBoundsOptions, LostRows, ThreeCases } from "./survival/loss-bounds.ts";
export type { Clusters, LabelledCodes, ObservationColumns, Observations } from "./survival/observations.ts";
export type {
  ObservedAgainstExpected,
  ObservedAgainstExpectedOptions,
} from "./survival/observed-against-expected.ts";
export type { PairwiseLogRank, PairwiseOptions } from "./survival/pairwise-log-rank.ts";
export type { RateBand } from "./survival/rate-table.ts";
export type {
  GroupRestrictedMean,
  RestrictedMean,
  RestrictedMeanComparison,
  RestrictedMeanOptions,
} from "./survival/restricted-mean.ts";
export type {
  CumulativeIncidence,
  IncidenceSteps,
  LimitSource,
  LogRankTest,
  RatePeriod,
  RevisionRate,
  SurvivalCurve,
  SurvivalSteps,
  YearDifference,
  YearValue,
} from "./survival/results.ts";
export type { RateOptions } from "./survival/revision-rate.ts";
export type { SmoothedHazard, SmoothedHazardOptions, SmoothedSteps } from "./survival/smoothed-hazard.ts";
export type { TimeReached, TimeToFraction } from "./survival/time-to-fraction.ts";
export type { YearDifferenceOptions } from "./survival/year-difference.ts";
export type { Operations } from "./synthetic/operations.ts";
export type { CAUSES, Cause, PlantedEffect, PlantedTruth } from "./synthetic/planted-truth.ts";
export type { RevisionTimes } from "./synthetic/revision-times.ts";
export type { Surgeons } from "./synthetic/surgeons.ts";
export type { SyntheticExport, SyntheticTruth } from "./synthetic/synthetic-export.ts";
export type { SyntheticOptions } from "./synthetic/synthetic-options.ts";
export type { Technique } from "./synthetic/technique-choice.ts";
export type { Exposure, ExposureGroups } from "./technique/exposure.ts";
export type { LevelOverlap } from "./technique/level-overlap.ts";
export type { UnitCount } from "./technique/row-codes.ts";
export type { LevelStates } from "./technique/states-by-level.ts";
export type { CitedFact, StepEntry } from "./technique/step-entry.ts";
export type { StepRecording } from "./technique/step-recording.ts";
export type { StepsTogether } from "./technique/steps-together.ts";
export type { ProportionDifference } from "./summaries/proportion-difference.ts";
export type { EValue, RatioKind, RatioWithLimits } from "./summaries/e-value.ts";
export type { DiscloseOptions } from "./disclosure/disclose.ts";
export type {
  HeldExhibit,
  HeldLandmarks,
  HeldName,
  HeldReport,
  HeldSize,
} from "./disclosure/held/held-report.ts";
export type { ToldCount, ToldCounts } from "./disclosure/held/told-counts.ts";
export type { FormCheck } from "./study/estimates/form-checks.ts";
export type { RunHashes } from "./study/notebook/run-hashes.ts";
export type { CurveDrawing } from "./disclosure/cleared.ts";
export type { EventsOverExpected, ExcessAt } from "./regression/events-over-expected.ts";
export type { TableMarks } from "./report/block.ts";
