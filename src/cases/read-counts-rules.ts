import type { FindingLog } from "../base/finding-log.ts";
import { TIME_UNITS } from "../base/time-unit.ts";
import type { CountsDescriptor } from "./read-counts-descriptor.ts";

/** One row of a counts file: what happened on one tick in one group and stratum. */
export interface CountsFileRow {
  readonly group: string;
  readonly stratum: string;
  readonly tick: number;
  readonly atRisk: number;
  /** By cause, in the descriptor's order. */
  readonly events: readonly number[];
  readonly censored: number;
  readonly entered: number;
  /** Where it stands, for findings. */
  readonly row: number;
  readonly line: number;
}

/** Nobody is followed longer; days that are called months would be. */
const MOST_YEARS = 150;

/**
 * Whether counts can be those of real follow-up: times rise, at risk follows from row to row, nobody is left over.
 *
 * At risk at a row is that of the row before, less its events and censored, plus its entered. Rows of one group and
 * stratum may be mixed with those of others. Faults go to the log.
 */
export function checkCountsRows(
  rows: readonly CountsFileRow[],
  descriptor: CountsDescriptor,
  log: FindingLog,
): void {
  const lastOfCell = new Map<string, CountsFileRow>();
  for (const row of rows) {
    const cell = `${row.group}\u0000${row.stratum}`;
    checkRow(row, lastOfCell.get(cell), descriptor, log);
    lastOfCell.set(cell, row);
  }
  for (const row of lastOfCell.values()) {
    if (leftAfter(row) > 0) report(log, row, "counts-do-not-empty", "at_risk");
  }
  checkCases(rows, descriptor, log);
}

function checkRow(
  row: CountsFileRow,
  before: CountsFileRow | undefined,
  { timeUnit }: CountsDescriptor,
  log: FindingLog,
): void {
  if (row.tick > MOST_YEARS * TIME_UNITS[timeUnit].perYear) {
    report(log, row, "counts-time-impossible", "time", { years: MOST_YEARS, unit: timeUnit });
  }
  if (leaving(row) > row.atRisk) report(log, row, "counts-more-leave", "at_risk");
  if (before === undefined) return;
  if (row.tick <= before.tick) report(log, row, "counts-time-not-ascending", "time");
  if (row.atRisk !== leftAfter(before)) report(log, row, "counts-at-risk-broken", "at_risk");
}

/** Everybody leaves once, so the leavers of a group are its cases. */
function checkCases(rows: readonly CountsFileRow[], { groups }: CountsDescriptor, log: FindingLog): void {
  for (const { label, cases } of groups) {
    const own = rows.filter(({ group }) => group === label);
    if (own.reduce((sum, row) => sum + leaving(row), 0) === cases) continue;
    log.add({ code: "counts-cases-differ", severity: "error", field: "cases", details: { group: label } });
  }
}

function leaving({ events, censored }: CountsFileRow): number {
  return events.reduce((sum, count) => sum + count, censored);
}

function leftAfter(row: CountsFileRow): number {
  return row.atRisk - leaving(row) + row.entered;
}

function report(
  log: FindingLog,
  { row, line }: CountsFileRow,
  code: string,
  field: string,
  details: Readonly<Record<string, string | number>> = {},
): void {
  log.add({ code, severity: "error", row, line, field, details });
}
