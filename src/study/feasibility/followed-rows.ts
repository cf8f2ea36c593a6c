import { tickOfYear } from "../../base/time-unit.ts";
import type { FollowUp } from "../../cohort/cohort.ts";
import { countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";

/** Rows of the cases, and the stretch of follow-up in which events count: after `fromYear`, up to `toYear`. */
export interface FollowedRows {
  readonly rows: Int32Array;
  readonly fromYear?: number;
  readonly toYear?: number | null;
}

/** What happened to some rows, all groups together. */
export interface Happened {
  readonly rows: Int32Array;
  readonly size: UnitCount;
  /** Of the endpoint's event, within the stretch. */
  readonly events: UnitCount;
  /** Events over years at risk; 0 without either. */
  readonly hazardPerYear: number;
  /** Competing outcomes over years at risk. */
  readonly lossPerYear: number;
}

/** Counts events and years at risk of some of the rows followed. */
export function happenedTo(followUp: FollowUp, wanted: FollowedRows, persons: RowCodes): Happened {
  const { rows: followed, exit, outcome, entry, timeUnit } = followUp;
  const from = wanted.fromYear ? tickOfYear(wanted.fromYear, timeUnit) : Number.NEGATIVE_INFINITY;
  const to =
    typeof wanted.toYear === "number" ? tickOfYear(wanted.toYear, timeUnit) : Number.POSITIVE_INFINITY;
  const withEvent: number[] = [];
  let [ticks, competing, at] = [0, 0, 0];
  // Both lists ascend.
  for (const row of wanted.rows) {
    while ((followed[at] ?? row) < row) at += 1;
    const end = exit[at] ?? 0;
    const start = Math.max(entry?.[at] ?? 0, 0, from);
    ticks += Math.max(0, Math.min(end, to) - start);
    if (end <= from || end > to) continue;
    if (outcome[at] === 1) withEvent.push(row);
    else if ((outcome[at] ?? 0) > 1) competing += 1;
  }
  const years = ticks / timeUnit.perYear;
  const perYear = (count: number) => (years === 0 ? 0 : count / years);
  return {
    rows: wanted.rows,
    size: countUnits(wanted.rows, persons),
    events: countUnits(withEvent, persons),
    hazardPerYear: perYear(withEvent.length),
    lossPerYear: perYear(competing),
  };
}
