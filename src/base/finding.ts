/** How much a finding weighs: an error stops the run after all findings are collected. */
export const SEVERITIES = ["error", "warning", "note"] as const;
export type Severity = (typeof SEVERITIES)[number];

/**
 * Something the data or the plan says that a person should look at.
 *
 * `details` holds only what is safe to print: counts, field names, rule limits, dictionary words. Never the
 * text of a cell.
 */
export interface Finding {
  /** Stable name of the rule, such as `revision-before-operation`. */
  readonly code: string;
  readonly severity: Severity;
  /** Record number, counted from 1 after the header. */
  readonly row?: number;
  /** Line of the file on which the record starts, counted from 1. */
  readonly line?: number;
  /** Which file, where the table lies in several. */
  readonly file?: string;
  readonly field?: string;
  readonly details?: Readonly<Record<string, string | number>>;
}

/** All findings of one code in one field: the count is complete, the examples are the first few. */
export interface FindingGroup {
  readonly code: string;
  readonly severity: Severity;
  readonly field?: string;
  readonly count: number;
  readonly first: readonly Finding[];
}

export interface Findings {
  readonly errors: number;
  readonly warnings: number;
  readonly notes: number;
  /** Errors first, then warnings, then notes; within each in the order met. */
  readonly groups: readonly FindingGroup[];
}
