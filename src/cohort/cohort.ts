import type { Findings } from "../base/finding.ts";
import type { TimeUnit } from "../base/time-unit.ts";

/** A named rule for who is studied. Kept are the rows whose field meets it. */
export interface EligibilityRule {
  /** For readers: "primary operations for osteoarthritis". */
  readonly label: string;
  /** Field name, or the role it carries written as "role:diagnosis". */
  readonly field: string;
  /** File codes kept. */
  readonly oneOf?: readonly string[];
  /** Lowest value kept: number, or ISO date for date fields. */
  readonly from?: number | string;
  /** Highest value kept. */
  readonly to?: number | string;
  /** What happens to rows where the field is missing. Default "exclude". */
  readonly missing?: "exclude" | "keep";
}

/** One step of the flow: how many were left, and how many this rule took out. */
export interface AttritionStep {
  readonly label: string;
  readonly removedUnits: number;
  /** Persons who own at least one unit taken out here; some of them may own another that stays. */
  readonly removedPersons: number;
  /** Of the units taken out: those whose field was missing. */
  readonly removedForMissing: number;
  readonly leftUnits: number;
  readonly leftPersons: number;
}

/** Who is studied. */
export interface Cohort {
  /** Rows of the cases kept, ascending. */
  readonly rows: Int32Array;
  readonly persons: number;
  /** First step: all rows of the export. */
  readonly attrition: readonly AttritionStep[];
}

/** Follow-up of the cohort's rows, in the order of `Cohort.rows`. Days or months, always whole. */
export interface FollowUp {
  readonly timeUnit: TimeUnit;
  readonly exit: Int32Array;
  /** 0 = censored; 1 = the endpoint's event; 2.. = its competing outcomes in order. */
  readonly outcome: Uint8Array;
  /** Names of outcomes 1, 2, …. */
  readonly outcomes: readonly string[];
  /** Present where the export has entry dates after the operation. */
  readonly entry?: Int32Array;
  /** Ticks to the event, the death or the data cut: what complete follow-up would have been. Absent without dates. */
  readonly possible?: Int32Array;
  /** 1 = alive, unrevised, and last seen over `lossTicks` before the data cut. Absent without dates. */
  readonly lost?: Uint8Array;
  readonly lossTicks: number;
  /** Rows left out of follow-up (no time under observation), as findings; they are not in `exit`. */
  readonly findings: Findings;
  /** Rows of the cases in `exit`, ascending: `Cohort.rows` without those left out. */
  readonly rows: Int32Array;
}
