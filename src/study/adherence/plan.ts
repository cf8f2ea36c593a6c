import type { TechniqueStep } from "../../cases/roles.ts";
import type { EligibilityRule } from "../../cohort/cohort.ts";

/** What the unit says of a step: in at least, or at most, so many per cent of the units where it applies. */
export type Standard = {
  readonly step: TechniqueStep;
  /** Whose standard it is, or why it was set there. */
  readonly reason: string;
} & ({ readonly percentAtLeast: number } | { readonly percentAtMost: number });

/** A day from which something was to change. */
export interface Change {
  /** ISO date; operations on that day count as after it. */
  readonly on: string;
  /** "a checklist was introduced". */
  readonly what: string;
}

/** Which steps a unit says it does, and how that is looked at. Plain data: its hash fixes it. */
export interface AdherencePlan {
  /** Folder name of the report: lower-case words joined by hyphens. */
  readonly id: string;
  readonly title: string;
  /** The question in one sentence, as it is put to the committee. */
  readonly question: string;
  /** Descriptor of the export, as a path from the notebook's folder. */
  readonly export: string;
  readonly eligibility: readonly EligibilityRule[];
  /** Default: every step the export records. */
  readonly steps?: readonly TechniqueStep[];
  /** Standards set beforehand. Without one a step is counted and not judged. */
  readonly standards: readonly Standard[];
  /** Steps that are also counted knee by knee: all of them done? Default: those with a standard of at least. */
  readonly together?: readonly TechniqueStep[];
  /** Before and after are compared. Needs dates of operation. */
  readonly change?: Change;
  /** Calendar years that stand in one column. Default 1. */
  readonly yearsInBlock?: number;
  /** Coded fields at whose levels the steps are looked at: bone, centre, grade of the operator; never one person. */
  readonly strata?: readonly string[];
  /** Level of every interval. Default 0.95. */
  readonly level?: number;
  /** With fewer recorded nothing is said about a standard. Default 20. */
  readonly fewestRecorded?: number;
}
