import { requiredDayNumber } from "../base/day-number.ts";
import type { Findings } from "../base/finding.ts";
import { type FindingLog, findingLog } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import { columnOfRole } from "./column-of-role.ts";
import { reportRepeatedCases } from "./repeated-cases.ts";
import { type RowRule, rowRules } from "./rules.ts";

/**
 * What the fields of an export say about one another that cannot be true, or should be looked at.
 *
 * Every rule is applied to every row, and all findings are collected: orders of dates, impossible and unusual values,
 * revisions without a reason and reasons without a revision, dates after the data cut, steps recorded after the
 * revision, and cases or knees that stand twice. What reading already reported is not reported again.
 */
export function checkCases(cases: Cases): Findings {
  const log = findingLog();
  const { dataCut } = cases.descriptor.study;
  const context = {
    dataCut: dataCut === undefined ? undefined : requiredDayNumber(dataCut, "study.dataCut"),
    hasDurations: cases.fieldOfRole.has("followUpTime") && cases.fieldOfRole.has("status"),
  };
  for (const rule of rowRules(context)) applyRule(rule, cases, log);
  reportRepeatedCases(cases, log);
  return log.findings();
}

function applyRule(rule: RowRule, cases: Cases, log: FindingLog): void {
  const column = columnOfRole(cases, rule.at);
  const reference = rule.reference === undefined ? undefined : columnOfRole(cases, rule.reference);
  if (column === undefined || (rule.reference !== undefined && reference === undefined)) return;
  const { code, severity, details } = rule;
  for (let row = 0; row < cases.rows; row += 1) {
    if (!rule.isBroken(row, column, reference)) continue;
    const place = { row: row + 1, line: cases.source.lineOfRow[row] ?? 0, field: column.field };
    log.add({ code, severity, ...place, ...(details && { details }) });
  }
}
