import type { EligibilityRule } from "../../cohort/cohort.ts";
import type { Endpoint } from "../../cohort/endpoint.ts";
import type { LogRankWeighting } from "../../survival/log-rank-weighting.ts";
import type { RateBand } from "../../survival/rate-table.ts";
import type { Exposure } from "../../technique/exposure.ts";
import type { FeasibilityRules } from "../feasibility/rules.ts";

/** "auto" takes the level at which the step is chosen: the surgeon where over half of its variance lies between surgeons. */
export const CLUSTER_CHOICES = ["auto", "surgeon", "patient", "none"] as const;

/** When the value of an adjuster is settled, against the step that is studied. */
export const SETTLED = ["before", "during", "after"] as const;

/** One covariate of the adjusted model. */
export interface Adjuster {
  /** Field name, or the role it carries written as "role:ageYears". */
  readonly field: string;
  /** What is settled during or after the step may be part of its effect, and is refused. */
  readonly settled: (typeof SETTLED)[number];
  readonly reason: string;
  /** Numbers: a smooth curve in place of a straight line. */
  readonly curve?: true;
  /** Codes: the code that the others are compared with. Default the first of the dictionary. */
  readonly reference?: string;
}

/** What a notebook declares before any result is seen. Plain data: its hash fixes it. */
export interface StudyPlan {
  /** Folder name of the report: lower-case words joined by hyphens. */
  readonly id: string;
  readonly title: string;
  /** The question in one sentence, as it is put to the committee. */
  readonly question: string;
  /** Descriptor of the export, as a path from the notebook's folder. */
  readonly export: string;
  readonly eligibility: readonly EligibilityRule[];
  readonly exposure: Exposure;
  readonly endpoint: Endpoint;
  /** What one event is called, and several. Default "revision" and "revisions", or "event" and "events" without revisions. */
  readonly eventWords?: { readonly one: string; readonly many: string };
  /** Years at which risks are printed. */
  readonly years: readonly number[];
  /** Upper ends of the rate periods in years; the last period is open. [3, 5] means 0–3, 3–5, over 5. */
  readonly periods: readonly number[];
  /** What between-group intervals are clustered on. "auto": the level at which the step is chosen. */
  readonly clusters?: (typeof CLUSTER_CHOICES)[number];
  /** Fields or roles of the covariate table, in order. */
  readonly covariates: readonly string[];
  /**
   * What the groups' hazard ratios are adjusted for, each with the reason for it. Nothing is chosen by its p. Left out: no
   * adjusted result.
   */
  readonly adjusters?: readonly Adjuster[];
  /** Smallest difference per 1000 that would matter, at the last of `years`. */
  readonly smallestDifferenceThatMatters: { readonly per1000: number; readonly reason: string };
  /** The groups of the exposure rise or fall in their order, so a trend along them is tested. */
  readonly groupsAreOrdered?: true;
  /** A second log-rank test that weights early or late differences, named before any result is seen. */
  readonly weighting?: LogRankWeighting;
  /**
   * Rates to set the events against, by sex (codes of the file), completed years of age and calendar year, with where
   * they come from.
   */
  readonly expectedRates?: { readonly source: string; readonly bands: readonly RateBand[] };
  /** Days without contact before the data cut after which somebody counts as lost. Default 365. */
  readonly lossDays?: number;
  /** Level of every interval, above 0.5: what it leaves is the chance of a false alarm. Default 0.95. */
  readonly level?: number;
  /** Comparisons planned in all, with other reports too. Default: those asked here, one for each group beside the first. */
  readonly plannedComparisons?: number;
  /** Thresholds of the verdict on feasibility in place of the defaults, and coded fields within which the step may vary. */
  readonly feasibility?: Partial<FeasibilityRules> & {
    readonly strata?: readonly string[];
    /** Smallest ratio that matters; default: what `smallestDifferenceThatMatters` amounts to. */
    readonly ratioThatMatters?: number;
  };
}
