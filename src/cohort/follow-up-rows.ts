import { findingLog } from "../base/finding-log.ts";
import type { TimeUnit } from "../base/time-unit.ts";
import type { Cases } from "../cases/cases.ts";
import type { FollowUp } from "./cohort.ts";
import type { LeftOutCode } from "./messages.ts";

/** Entry of a row that was at risk from before tick 0. */
export const FROM_START = -1;

/** Fills the columns of follow-up row by row; those left out are counted as findings. */
export interface FollowUpRows {
  keep(row: number, exit: number, outcome: number, entry: number, possible: number, lost: boolean): void;
  leaveOut(row: number, code: LeftOutCode, field: string): void;
  finish(): FollowUp;
}

export function followUpRows(
  cases: Cases,
  size: number,
  settings: {
    readonly outcomes: readonly string[];
    readonly timeUnit: TimeUnit;
    readonly lossTicks: number;
    /** Whether the export says how long complete follow-up would have been. */
    readonly possibleKnown: boolean;
  },
): FollowUpRows {
  const { outcomes, timeUnit, lossTicks, possibleKnown } = settings;
  const log = findingLog();
  const rows = new Int32Array(size);
  const exits = new Int32Array(size);
  const outcomeOf = new Uint8Array(size);
  const entries = new Int32Array(size);
  const possibles = new Int32Array(size);
  const losts = new Uint8Array(size);
  let count = 0;
  let someEnterLate = false;
  return {
    keep(row, exit, outcome, entry, possible, lost) {
      rows[count] = row;
      exits[count] = exit;
      outcomeOf[count] = outcome;
      entries[count] = entry;
      possibles[count] = possible;
      losts[count] = lost ? 1 : 0;
      if (entry > FROM_START) someEnterLate = true;
      count += 1;
    },
    leaveOut(row, code, field) {
      const line = cases.source.lineOfRow[row];
      log.add({ code, severity: "warning", row: row + 1, field, ...(line !== undefined && { line }) });
    },
    finish: () => ({
      timeUnit,
      exit: exits.subarray(0, count),
      outcome: outcomeOf.subarray(0, count),
      outcomes,
      ...(someEnterLate && { entry: entries.subarray(0, count) }),
      ...(possibleKnown && { possible: possibles.subarray(0, count), lost: losts.subarray(0, count) }),
      lossTicks,
      findings: log.findings(),
      rows: rows.subarray(0, count),
    }),
  };
}
