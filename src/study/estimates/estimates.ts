import type { Answer } from "../../base/answer.ts";
import type { AttritionStep } from "../../cohort/cohort.ts";
import type { Concordance } from "../../regression/cox-concordance.ts";
import type { CoxFit } from "../../regression/cox-result.ts";
import type { CoxInfluence } from "../../regression/cox-row-influence.ts";
import type { EffectOverTime } from "../../regression/effect-over-time.ts";
import type { FineGrayFit } from "../../regression/fine-gray-regression.ts";
import type { FrailtyFit } from "../../regression/frailty-result.ts";
import type { HazardRatiosByPeriod } from "../../regression/hazard-ratios-by-period.ts";
import type { HazardRatiosWithinBetween } from "../../regression/hazard-ratios-within-between.ts";
import type { RowsLost } from "../../regression/model-matrix.ts";
import type { PenalisedCoxFit } from "../../regression/penalised-cox.ts";
import type { ProportionalHazardsCheck } from "../../regression/proportional-hazards-check.ts";
import type { StandardisedCurves } from "../../regression/standardised-curves.ts";
import type { CovariateTable } from "../../summaries/covariate-table.ts";
import type { ClusteredRate } from "../../survival/clustered-rate.ts";
import type { CumulativeHazard } from "../../survival/cumulative-hazard.ts";
import type { RateComparison } from "../../survival/exact-rate-comparison.ts";
import type { GrayTest } from "../../survival/gray-test.ts";
import type { LogRankTrend } from "../../survival/log-rank-trend.ts";
import type { LossBounds } from "../../survival/loss-bounds.ts";
import type { ObservedAgainstExpected } from "../../survival/observed-against-expected.ts";
import type { PairwiseLogRank } from "../../survival/pairwise-log-rank.ts";
import type { RestrictedMean } from "../../survival/restricted-mean.ts";
import type {
  CumulativeIncidence,
  LogRankTest,
  RevisionRate,
  SurvivalCurve,
  YearDifference,
} from "../../survival/results.ts";
import type { SmoothedHazard } from "../../survival/smoothed-hazard.ts";
import type { TimeToFraction } from "../../survival/time-to-fraction.ts";
import type { StudyFeasibility } from "../feasibility/study-feasibility.ts";
import type { FormCheck } from "./form-checks.ts";

export type { FormCheck };

/** How many, and how many persons own them. */
export interface Size {
  readonly units: number;
  readonly persons: number;
}

/** A group of the comparison, or those in none, with what happened to them. */
export interface GroupSize extends Size {
  readonly label: string;
  readonly events: Size;
  /** Events at or before each of the plan's years. */
  readonly eventsByYear: readonly Size[];
  /** Events in each declared period. */
  readonly eventsByPeriod: readonly Size[];
}

export interface GroupFollowUp {
  readonly label: string;
  readonly size: Size;
  /** Follow-up there would have been had nobody died or had the event. */
  readonly medianYears: Answer<{
    readonly median: number;
    readonly lowerQuarter: number | null;
    readonly upperQuarter: number | null;
  }>;
  /** Observed time over the time to event, death or data cut. */
  readonly completeness: Answer<{ readonly share: number }>;
  readonly lost: Answer<Size>;
  readonly unitYears: number;
}

export interface RecordedStates {
  readonly title: string;
  /** `group` is the label under which the same units stand elsewhere. */
  readonly states: readonly { readonly label: string; readonly group: string; readonly size: Size }[];
  readonly recordedAfterRevision: number;
  /** Among the not recorded, by what was written down too late to count; none of nobody. */
  readonly writtenLate: readonly { readonly label: string; readonly size: Size }[];
}

/** Two groups at each of the plan's years. */
export interface PairDifferences {
  readonly groups: readonly [number, number];
  readonly crude: readonly Answer<YearDifference>[];
  readonly net: readonly Answer<YearDifference>[];
}

/** Rates of two groups over all years. */
export interface RateRatio {
  readonly groups: readonly [number, number];
  readonly comparison: Answer<RateComparison>;
}

/** Rates of two groups in each period. */
export interface PeriodRatios {
  readonly groups: readonly [number, number];
  readonly byPeriod: readonly Answer<RateComparison>[];
}

/**
 * Every number of a study, at full precision and before disclosure control. What only analysts see is a function, which
 * computes when it is first asked.
 */
export interface StudyEstimates {
  readonly exportSize: Size;
  readonly attrition: readonly AttritionStep[];
  readonly leftOut: Size;
  readonly compared: readonly GroupSize[];
  /** Owners of what is compared; a person with units in two groups is one here and stands in both. */
  readonly comparedPersons: number;
  readonly notCompared: readonly GroupSize[];
  readonly followUp: readonly GroupFollowUp[];
  readonly recording: RecordedStates | undefined;
  readonly covariates: CovariateTable;
  readonly incidence: Answer<CumulativeIncidence>;
  readonly survival: SurvivalCurve;
  readonly pairs: readonly PairDifferences[];
  readonly logRank: { readonly clustered: Answer<LogRankTest>; readonly plain: Answer<LogRankTest> };
  readonly rateRatios: readonly RateRatio[];
  readonly periodRatios: readonly PeriodRatios[];
  readonly rates: RevisionRate;
  readonly notComparedRates: RevisionRate | undefined;
  readonly feasibility: Answer<StudyFeasibility>;
  readonly adjusted: Adjusted;
  readonly otherMeasures: () => OtherMeasures;
  readonly otherTests: () => OtherTests;
  readonly loss: () => Answer<LossBounds>;
}

/** Hazard ratios of the groups. The first group is the reference of the model. */
export interface Adjusted {
  readonly groupTerm: string;
  readonly rows: ModelRows;
  /** Rows the adjusted model cannot use. */
  readonly lost: readonly RowsLost[];
  /** The groups alone: on the rows of the adjusted model, or on all where there is none. */
  readonly alone: Answer<AdjustedModel>;
  readonly adjusted: Answer<AdjustedModel>;
  /** Of the adjusted model, or of the groups alone where there is none. */
  readonly checks: () => Answer<ModelChecks>;
  /** Of the adjusted model; none where there is none. */
  readonly forms: () => readonly FormCheck[];
  readonly causes: () => readonly CauseFit[];
  readonly others: () => OtherFits;
}

export interface CauseFit {
  readonly cause: string;
  readonly fit: Answer<CoxFit>;
}

/** The model in use, fitted in other ways. */
export interface OtherFits {
  /** Every row taken as independent. */
  readonly penalised: Answer<PenalisedCoxFit>;
  /** A prediction of crude risk. */
  readonly fineGray: Answer<FineGrayFit>;
  /** What knees of one surgeon, or of one patient, share beyond the columns. */
  readonly frailty: Answer<FrailtyFit>;
  readonly within: Answer<HazardRatiosWithinBetween>;
}

/** The rows that the models shown rest on. */
export interface ModelRows {
  /** Of the rows in the model. */
  readonly sizes: readonly GroupSize[];
  /** Nobody compared is left out of the model. */
  readonly isEverybody: boolean;
}

export interface AdjustedModel {
  readonly fit: CoxFit;
  readonly byPeriod: Answer<HazardRatiosByPeriod>;
  /** Net risk if everybody were in one group, averaged over the cohort. */
  readonly differences: Answer<StandardisedCurves>;
}

export interface ModelChecks {
  readonly change: Answer<ProportionalHazardsCheck>;
  readonly concordance: Answer<Concordance>;
  readonly influence: Answer<CoxInfluence>;
  readonly effects: readonly Answer<EffectOverTime>[];
}

/** The same question by other measures. */
export interface OtherMeasures {
  /** One for each share looked up. */
  readonly times: readonly TimeToFraction[];
  /** To the last of the plan's years. */
  readonly restrictedMean: RestrictedMean;
  /** Net, given nothing by a stated year. */
  readonly conditional: Answer<SurvivalCurve>;
  readonly cumulativeHazard: CumulativeHazard;
  readonly smoothedHazard: SmoothedHazard;
  readonly clusteredRates: Answer<ClusteredRate>;
  /** Where the plan gives a table of rates. */
  readonly expected?: Answer<{ readonly leftOut: number; readonly groups: readonly ExpectedGroup[] }>;
}

export interface ExpectedGroup {
  readonly group: string;
  readonly observed: number;
  readonly against: Answer<ObservedAgainstExpected>;
}

/** Tests beside the log-rank of all follow-up. */
export interface OtherTests {
  readonly gray: Answer<GrayTest>;
  /** Where the plan declares a weighting. */
  readonly weighted?: Answer<LogRankTest>;
  /** Where the plan says that the groups are ordered. */
  readonly trend?: Answer<LogRankTrend>;
  /** Where there are more than two groups. */
  readonly pairs?: PairwiseLogRank["pairs"];
}
