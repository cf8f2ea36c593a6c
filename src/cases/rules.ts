import { type Column, isPresent } from "../base/column.ts";
import type { Severity } from "../base/finding.ts";
import { UNREADABLE_REASON } from "./cell-status.ts";
import { CASE_ROLES, type FieldRole, TECHNIQUE_STEPS } from "./roles.ts";

/** A rule about the fields of one row. It applies where the export has every field it needs. */
export interface RowRule {
  readonly code: string;
  readonly severity: Severity;
  /** The field named in the finding: where a person looks first. */
  readonly at: FieldRole;
  /** The other field that the rule reads. */
  readonly reference?: FieldRole;
  readonly details?: Readonly<Record<string, string | number>>;
  /** Given the columns of `at` and `reference`: does this row break the rule? */
  readonly isBroken: (row: number, column: Column, reference: Column | undefined) => boolean;
}

export interface RuleContext {
  /** Day number of the data cut, where the descriptor states one. */
  readonly dataCut: number | undefined;
  /** True where follow-up is given as durations instead of dates. */
  readonly hasDurations: boolean;
}

/**
 * Every rule that looks at one row, as data.
 *
 * Impossible values and orders are errors: no analysis can mean anything with them. Values that are possible but
 * rare are warnings. Limits in common practice, no source.
 */
export function rowRules({ dataCut, hasDurations }: RuleContext): readonly RowRule[] {
  return [
    ...(hasDurations ? DURATION_RULES : [missing("operation-date-missing", "operationDate")]),
    missing("patient-missing", "patientId", "warning"),
    ...ORDER_RULES,
    ...LIMIT_RULES,
    ...REVISION_RULES,
    ...TECHNIQUE_STEPS.map(recordedAfterRevision),
    ...(dataCut === undefined ? [] : DATED_ROLES.map((role) => afterDataCut(role, dataCut))),
  ];
}

const DATED_ROLES = CASE_ROLES.filter((role) => role.endsWith("Date"));

const ORDER_RULES: readonly RowRule[] = [
  earlier("revision-before-operation", "revisionDate", "operationDate"),
  earlier("death-before-operation", "deathDate", "operationDate"),
  earlier("emigration-before-operation", "emigrationDate", "operationDate"),
  earlier("last-contact-before-operation", "lastFollowUpDate", "operationDate"),
  earlier("death-before-revision", "deathDate", "revisionDate"),
  earlier("last-contact-before-revision", "lastFollowUpDate", "revisionDate", "warning"),
  // Death registers are often later than the last visit, never earlier.
  earlier("death-before-last-contact", "deathDate", "lastFollowUpDate", "warning"),
  earlier("entry-after-revision", "revisionDate", "entryDate", "warning"),
  earlier("entry-after-death", "deathDate", "entryDate", "warning"),
  earlier("entry-after-last-contact", "lastFollowUpDate", "entryDate", "warning"),
];

const LIMIT_RULES: readonly RowRule[] = [
  outside("age-impossible", "ageYears", 0, 120),
  outside("age-unusual", "ageYears", 18, 105, "warning", { low: 0, high: 120 }),
  outside("bmi-impossible", "bmi", 8, 120),
  outside("bmi-unusual", "bmi", 12, 70, "warning", { low: 8, high: 120 }),
  outside("asa-grade-impossible", "asaGrade", 1, 6),
];

const REVISION_RULES: readonly RowRule[] = [
  {
    code: "reason-without-revision-date",
    severity: "error",
    at: "revisionReason",
    reference: "revisionDate",
    isBroken: (row, reason, date) => present(reason, row) && isAbsent(date, row),
  },
  {
    code: "revision-without-reason",
    severity: "warning",
    at: "revisionReason",
    reference: "revisionDate",
    isBroken: (row, reason, date) => !present(reason, row) && present(date, row),
  },
  {
    code: "component-without-revision-date",
    severity: "warning",
    at: "loosenedComponent",
    reference: "revisionDate",
    isBroken: (row, component, date) => present(component, row) && isAbsent(date, row),
  },
];

const DURATION_RULES: readonly RowRule[] = [
  missing("follow-up-missing", "followUpTime"),
  missing("status-missing", "status"),
  {
    code: "follow-up-negative",
    severity: "error",
    at: "followUpTime",
    isBroken: (row, time) => (numberAt(time, row) ?? 0) < 0,
  },
];

function missing(code: string, at: FieldRole, severity: Severity = "error"): RowRule {
  return { code, severity, at, isBroken: (row, column) => isAbsent(column, row) };
}

/** Breaks where the date of `at` lies before that of `reference`. The same day is in order. */
function earlier(code: string, at: FieldRole, reference: FieldRole, severity: Severity = "error"): RowRule {
  return {
    code,
    severity,
    at,
    reference,
    isBroken: (row, checked, anchor) => {
      const day = dayAt(checked, row);
      const anchorDay = dayAt(anchor, row);
      return day !== undefined && anchorDay !== undefined && day < anchorDay;
    },
  };
}

/** Breaks outside the closed range; a range around it, where given, belongs to a graver rule. */
function outside(
  code: string,
  at: FieldRole,
  low: number,
  high: number,
  severity: Severity = "error",
  within: { readonly low: number; readonly high: number } = { low: -Infinity, high: Infinity },
): RowRule {
  return {
    code,
    severity,
    at,
    details: { low, high },
    isBroken: (row, column) => {
      const value = numberAt(column, row);
      if (value === undefined || value < within.low || value > within.high) return false;
      return value < low || value > high;
    },
  };
}

function afterDataCut(at: FieldRole, dataCut: number): RowRule {
  return {
    code: "date-after-data-cut",
    severity: "error",
    at,
    isBroken: (row, column) => (dayAt(column, row) ?? dataCut) > dataCut,
  };
}

/** What is written down after the revision may have been written because of it: it counts as not recorded. */
function recordedAfterRevision(step: (typeof TECHNIQUE_STEPS)[number]): RowRule {
  return {
    code: "step-recorded-after-revision",
    severity: "warning",
    at: `technique:${step}:recordedOn`,
    reference: "revisionDate",
    isBroken: (row, recorded, revision) => {
      const recordedDay = dayAt(recorded, row);
      const revisionDay = dayAt(revision, row);
      return recordedDay !== undefined && revisionDay !== undefined && recordedDay > revisionDay;
    },
  };
}

function present(column: Column | undefined, row: number): boolean {
  return column !== undefined && isPresent(column, row);
}

/** Missing as the export says; a cell that could not be read has its own finding already. */
function isAbsent(column: Column | undefined, row: number): boolean {
  if (column === undefined || isPresent(column, row)) return false;
  const reason = column.missing[row] ?? 0;
  return column.missingReasons[reason - 1] !== UNREADABLE_REASON;
}

function dayAt(column: Column | undefined, row: number): number | undefined {
  return column?.kind === "day" && isPresent(column, row) ? column.values[row] : undefined;
}

function numberAt(column: Column | undefined, row: number): number | undefined {
  return column?.kind === "number" && isPresent(column, row) ? column.values[row] : undefined;
}
