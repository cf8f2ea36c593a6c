import type { Column } from "../base/column.ts";
import { requiredDayNumber } from "../base/day-number.ts";
import type { Findings } from "../base/finding.ts";
import { type FindingLog, findingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { reportCodeDrift } from "./code-drift.ts";
import { columnOfRole } from "./column-of-role.ts";
import { caseFields } from "./descriptor-rules.ts";
import { reportHeaping } from "./heaping.ts";
import { reportNeverFilled } from "./never-filled.ts";
import { reportPatientConflicts } from "./patient-conflicts.ts";
import { reportRepeatedCases } from "./repeated-cases.ts";
import type { RowRule } from "./rule-tests.ts";
import { rowRules } from "./rules.ts";
import { withFiles } from "./tables/joined-table.ts";
import { inOtherUnit } from "./unit-check.ts";
import { valueLimits } from "./value-limits.ts";

/** Rules that need more than one row. */
const TABLE_RULES: readonly ((cases: Cases, log: FindingLog) => void)[] = [
  reportRepeatedCases,
  reportPatientConflicts,
  reportCodeDrift,
  reportHeaping,
  reportNeverFilled,
];

/**
 * What the fields of an export say about one another that cannot be true, or should be looked at.
 *
 * Every rule is applied to every row, and all findings are collected. Row by row: orders of dates and impossible
 * intervals, impossible and unusual values, revisions without a reason and reasons without a revision, the side of a
 * revision against that of the knee, dates after the data cut, steps recorded after the revision, steps done where they
 * cannot apply. Across rows: cases or knees that stand twice, knees of one patient that contradict each other, codes
 * that replace one another in calendar time, digits and days that are written too often, and fields that one surgeon
 * never fills. What reading already reported is not reported again: a value in another unit, or beyond the limits that the
 * dictionary sets to its field, is no impossible or unusual one besides.
 *
 * @example
 * checkCases(await readCases("data/mgus2/datapackage.json")).errors; // 0
 */
export function checkCases(cases: Cases): Findings {
  const log = findingLog();
  const { dataCut } = cases.descriptor.study;
  const context = {
    dataCut: dataCut === undefined ? undefined : requiredDayNumber(dataCut, "study.dataCut"),
    hasDurations: cases.fieldOfRole.has("followUpTime") && cases.fieldOfRole.has("status"),
  };
  for (const rule of rowRules(context)) applyRule(rule, cases, log);
  for (const report of TABLE_RULES) report(cases, log);
  return withFiles(log.findings(), cases.source.files ?? []);
}

function applyRule(rule: RowRule, cases: Cases, log: FindingLog): void {
  const column = columnOfRole(cases, rule.at);
  const reads = (rule.reads ?? []).map((role) => columnOfRole(cases, role));
  if (column === undefined || !reads.every((read): read is Column => read !== undefined)) return;
  const isBroken = rule.test(column, reads, cases);
  if (isBroken === undefined) return;
  const { code, severity, details } = rule;
  // What is wrong with a value alone is told once, by whatever says most about it.
  const isTold = reads.length === 0 ? toldWhenRead(cases, column) : () => false;
  for (let row = 0; row < cases.rows; row += 1) {
    if (!isBroken(row) || isTold(row)) continue;
    const place = { row: row + 1, line: cases.source.lineOfRow[row] ?? 0, field: column.field };
    log.add({ code, severity, ...place, ...(details && { details }) });
  }
}

/** Whether reading has reported the value of a row, as beyond its limits or in another unit. */
function toldWhenRead(cases: Cases, column: Column): (row: number) => boolean {
  const field = caseFields(cases.descriptor).find(({ name }) => name === column.field);
  if (field === undefined) return () => false;
  const { isBelow, isAbove } = valueLimits(field, column);
  const isInOtherUnit = inOtherUnit(field, column);
  return (row) => isBelow(row) || isAbove(row) || isInOtherUnit(row);
}
