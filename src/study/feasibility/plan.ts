import type { TechniqueStep } from "../../cases/roles.ts";
import type { EligibilityRule } from "../../cohort/cohort.ts";
import type { Endpoint } from "../../cohort/endpoint.ts";
import type { OtherMeasure } from "./other-measures.ts";
import type { Matters } from "./ratio-that-matters.ts";
import type { FeasibilityRules } from "./rules.ts";

/** An outcome that the steps are asked about, and what difference in it would matter. */
export interface AskedOutcome {
  readonly endpoint: Endpoint;
  /** Year at which a difference per 1000 is counted. */
  readonly year: number;
  readonly smallestDifferenceThatMatters: Matters & { readonly reason: string };
  /** Ends of periods, each a question of its own for which only its own events count. Default none. */
  readonly periods?: readonly number[];
}

/** Which questions an export could answer: what is asked of it before any result is seen. */
export interface FeasibilityPlan {
  /** Folder name of the report: lower-case words joined by hyphens. */
  readonly id: string;
  readonly title: string;
  /** Descriptor of the export, as a path from the notebook's folder. */
  readonly export: string;
  readonly eligibility: readonly EligibilityRule[];
  /** Default: every step the export records. */
  readonly steps?: readonly TechniqueStep[];
  readonly outcomes: readonly AskedOutcome[];
  /** Coded fields within which steps may vary. Default none. */
  readonly strata?: readonly string[];
  /** Comparisons planned in all. Default: every question asked here. */
  readonly plannedComparisons?: number;
  /** Chance of a false alarm over all planned comparisons. Default 0.05. */
  readonly falseAlarm?: number;
  /** Thresholds to use in place of the defaults. */
  readonly rules?: Partial<FeasibilityRules>;
  /** Other outcomes whose sizes of sample are printed. Default: depth, lines and adherence. */
  readonly otherMeasures?: readonly OtherMeasure[];
}
