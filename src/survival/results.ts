import type { Answer } from "../base/answer.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import type { SmallSample } from "./few-clusters.ts";
import type { LogRankWeighting } from "./log-rank-weighting.ts";

/** Scale on which an interval for a share is symmetric. */
export const INTERVAL_SCALES = ["log-minus-log", "log", "linear"] as const;
export type IntervalScale = (typeof INTERVAL_SCALES)[number];

/**
 * Where the limits at a step come from: the variance; the exact binomial limit while nothing has been seen
 * ("0 seen; up to x not excluded"); or none, because nobody is left, or because a single cluster, or clusters that
 * leave no variation between them, show no spread.
 */
export type LimitSource = "variance" | "none seen" | "nobody left" | "one cluster" | "no spread";

/** Value of a curve at a stated year: the step at or before that tick. */
export interface YearValue {
  readonly year: number;
  readonly tick: number;
  readonly value: number;
  readonly standardError: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly limits: LimitSource;
  readonly atRisk: number;
  /** Events of the cause at or before the tick. */
  readonly events: number;
}

/** One group's steps. Parallel arrays over the ticks at which anything happened. */
export interface SurvivalSteps {
  readonly group: string;
  readonly cases: number;
  readonly events: number;
  readonly time: readonly number[];
  readonly atRisk: readonly number[];
  readonly eventsAt: readonly number[];
  readonly censoredAt: readonly number[];
  readonly survival: readonly number[];
  /** Null where nobody is left: the variance is not defined there. */
  readonly standardError: readonly (number | null)[];
  readonly lower: readonly (number | null)[];
  readonly upper: readonly (number | null)[];
  readonly limits: readonly LimitSource[];
  /** Last tick of the group's follow-up: beyond it the curve is undefined, not flat. */
  readonly followedTo: number;
  /**
   * With delayed entry: the tick on which everyone then under observation had left or had the event, although others
   * entered later. From there on the curve estimates nothing; null where this did not happen.
   */
  readonly emptiedAt: number | null;
  /** Last tick at which enough are at risk to draw or print (design: at least max(40, 10 % of the largest)). */
  readonly drawnTo: Answer<{ readonly tick: number; readonly atRiskFloor: number }>;
  readonly atYears: readonly Answer<YearValue>[];
}

export interface SurvivalCurve {
  readonly kind: "survivalCurve";
  readonly settings: {
    readonly level: number;
    readonly scale: IntervalScale;
    readonly event: readonly string[];
    /** Word of the cluster the variance is taken over; null means Greenwood. */
    readonly clusteredBy: string | null;
    /** The curve is conditional on no event up to this tick; null means from the start. */
    readonly from: number | null;
  };
  readonly timeUnit: TimeUnit;
  readonly groups: readonly SurvivalSteps[];
}

/** Cumulative incidence of one cause in one group. */
export interface IncidenceSteps {
  readonly group: string;
  readonly cause: string;
  readonly cases: number;
  readonly events: number;
  readonly time: readonly number[];
  readonly atRisk: readonly number[];
  readonly eventsAt: readonly number[];
  readonly competingAt: readonly number[];
  readonly censoredAt: readonly number[];
  readonly incidence: readonly number[];
  readonly standardError: readonly number[];
  readonly lower: readonly (number | null)[];
  readonly upper: readonly (number | null)[];
  readonly limits: readonly LimitSource[];
  readonly followedTo: number;
  readonly drawnTo: Answer<{ readonly tick: number; readonly atRiskFloor: number }>;
  readonly atYears: readonly Answer<YearValue>[];
}

export interface CumulativeIncidence {
  readonly kind: "cumulativeIncidence";
  readonly settings: {
    readonly level: number;
    readonly scale: IntervalScale;
    readonly clusteredBy: string | null;
  };
  readonly timeUnit: TimeUnit;
  /** Over groups, then causes. */
  readonly curves: readonly IncidenceSteps[];
}

/** First group minus second at a stated year. */
export interface YearDifference {
  readonly kind: "yearDifference";
  readonly measure: "incidence" | "survival";
  readonly cause: string;
  readonly year: number;
  readonly groups: readonly [string, string];
  readonly values: readonly [number, number];
  readonly difference: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly p: number;
  readonly settings: {
    readonly level: number;
    readonly clusteredBy: string | null;
    readonly clusters: number | null;
    /** Clusters with rows in the first and in the second group; left out where rows are not clustered. */
    readonly clustersByGroup?: readonly [number, number];
    /** Degrees of freedom of the t in use; null means normal. */
    readonly degreesOfFreedom: number | null;
    /** How the variance over clusters was widened; left out: not at all. */
    readonly smallSample?: SmallSample;
  };
}

export interface LogRankTest {
  readonly kind: "logRankTest";
  readonly settings: {
    readonly event: readonly string[];
    /** How much each event tick counts; left out: all alike. */
    readonly weighting?: LogRankWeighting;
    readonly stratified: boolean;
    readonly clusteredBy: string | null;
    readonly clusters: number | null;
    readonly degreesOfFreedomOfT: number | null;
  };
  readonly groups: readonly {
    readonly group: string;
    readonly cases: number;
    readonly observed: number;
    readonly expected: number;
  }[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
}

/** How the limits of a rate are found: see `COUNT_LIMIT_METHODS`. */
export const RATE_METHODS = ["exact", "mid-p"] as const;
export type RateMethod = (typeof RATE_METHODS)[number];

/** Revisions per 100 unit-years of one group in one period. */
export interface RatePeriod {
  readonly group: string;
  /** (fromYear, toYear]; toYear null = no upper end. */
  readonly fromYear: number;
  readonly toYear: number | null;
  readonly events: number;
  readonly unitYears: number;
  readonly rate: Answer<{
    readonly per100: number;
    readonly lower: number;
    readonly upper: number;
  }>;
}

export interface RevisionRate {
  readonly kind: "revisionRate";
  readonly settings: {
    readonly level: number;
    readonly method: RateMethod;
    readonly event: readonly string[];
  };
  readonly periods: readonly RatePeriod[];
}
