import type { DayColumn } from "../base/column.ts";
import { requiredDayNumber } from "../base/day-number.ts";
import { UsageError } from "../base/errors.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import type { CaseRole } from "../cases/roles.ts";
import { requireCensoringRule } from "./allowed-risks.ts";
import type { Cohort } from "./cohort.ts";
import type { CensoringRule } from "./endpoint.ts";
import { isLater, NEVER, radiographAfter } from "./seen-on-radiograph.ts";

/** What can say that a knee was still unrevised on a day. */
export const LEDGER_SOURCES = [
  "revision",
  "death",
  "emigration",
  "dataCut",
  "lastContact",
  "radiograph",
] as const;
export type LedgerSource = (typeof LEDGER_SOURCES)[number];

/** For each knee the last day on which it was known to be unrevised, and which source says so. */
export interface FollowUpLedger {
  readonly kind: "follow-up-ledger";
  readonly rule: CensoringRule;
  /** Rows of the cases that have a ledger line, ascending. */
  readonly rows: Int32Array;
  /** Day of the operation. */
  readonly operated: Int32Array;
  /** Last day known unrevised; where the knee was revised, the day of the revision. */
  readonly knownTo: Int32Array;
  /** Index into `LEDGER_SOURCES`. */
  readonly source: Uint8Array;
  /** Last day on which something measured at a visit could have been seen; under "hybrid" only. */
  readonly seenTo?: Int32Array;
  /** Rows for which nothing says anything after the operation, or that have no operation date. */
  readonly unknown: number;
}

/** A ledger added up over the knees of a group. */
export interface LedgerGroup {
  readonly label: string;
  readonly knees: number;
  readonly bySource: Readonly<Record<LedgerSource, number>>;
  /** Days from operation to the last day known unrevised, added. */
  readonly observedDays: number;
  /** Alive, unrevised, and known for the last time more than `lossDays` before the data cut. */
  readonly lost: number;
  readonly lossDays: number;
}

/**
 * To which day each knee is known to be unrevised, by a named rule.
 *
 * "dataCut": up to the data cut, where revisions and deaths are captured nationally. "lastContact": up to the last
 * contact, or the last radiograph where that is later: a knee on it was there, unrevised. "hybrid": what a register
 * captures (revision, death) up to the data cut, and what is measured at visits up to the last visit; both days are
 * given. Emigration ends every rule. The first source in time counts; on one day a revision beats a death, a death an
 * emigration, and these the end of observation.
 *
 * @throws UsageError `censoring-rule-not-allowed`, `data-cut-not-stated` or `role-not-in-export` where what the export
 * says of its capture does not allow the rule.
 */
export function followUpLedger(cases: Cases, cohort: Cohort, rule: CensoringRule): FollowUpLedger {
  requireCensoringRule(cases.descriptor, { censoring: rule });
  const operation = requiredColumn(cases, "operationDate");
  const contact = rule === "dataCut" ? undefined : requiredColumn(cases, "lastFollowUpDate");
  const taken = rule === "dataCut" ? undefined : dayColumn(cases, "radiographDate");
  const ends = (["revisionDate", "deathDate", "emigrationDate"] as const).map((role) =>
    dayColumn(cases, role),
  );
  const { dataCut } = cases.descriptor.study;
  const cut = dataCut === undefined ? NEVER : requiredDayNumber(dataCut, "study.dataCut");
  const size = cohort.rows.length;
  const [rows, operated, knownTo, seenTo] = [0, 1, 2, 3].map(() => new Int32Array(size)) as [
    Ints,
    Ints,
    Ints,
    Ints,
  ];
  const source = new Uint8Array(size);
  let count = 0;
  for (const row of cohort.rows) {
    const start = dayOf(operation, row);
    const [revision, death, emigration] = ends.map((column) => dayOf(column, row)) as [
      number,
      number,
      number,
    ];
    const last = dayOf(contact, row);
    const radiograph = radiographAfter(start, taken, row);
    // A contact is not asked for where an event is on record: it is one itself.
    const isEnded = Math.min(revision, death) !== NEVER;
    const isSeenLater = isLater(radiograph, last);
    const seen = isSeenLater ? radiograph : last;
    const asked = rule === "lastContact" && !isEnded;
    const days = [
      ...[revision, death, emigration, cut],
      asked && !isSeenLater ? last : NEVER,
      asked && isSeenLater ? radiograph : NEVER,
    ];
    const end = Math.min(...days);
    const isUnknown = end === NEVER || end < start || (asked && seen === NEVER && emigration === NEVER);
    if (start === NEVER || isUnknown) continue;
    rows[count] = row;
    operated[count] = start;
    knownTo[count] = end;
    source[count] = days.indexOf(end);
    seenTo[count] = seen === NEVER ? start : Math.max(start, Math.min(seen, end));
    count += 1;
  }
  return {
    kind: "follow-up-ledger",
    rule,
    rows: rows.subarray(0, count),
    operated: operated.subarray(0, count),
    knownTo: knownTo.subarray(0, count),
    source: source.subarray(0, count),
    ...(rule === "hybrid" && { seenTo: seenTo.subarray(0, count) }),
    unknown: size - count,
  };
}

type Ints = Int32Array<ArrayBuffer>;

/**
 * The ledger by group: who said so, for how long, and how many were lost.
 *
 * `groupOfRow` gives the place of each row of the cases in `labels`, or undefined for rows in none. Completeness as a
 * share is `completeness`, from the same days. Without a data cut nobody can be called lost.
 */
export function ledgerByGroup(
  ledger: FollowUpLedger,
  groupOfRow: (row: number) => number | undefined,
  labels: readonly string[],
  options: { readonly dataCut?: number | undefined; readonly lossDays?: number } = {},
): readonly LedgerGroup[] {
  const { dataCut, lossDays = 365 } = options;
  const groups = labels.map((label) => ({
    label,
    knees: 0,
    bySource: { revision: 0, death: 0, emigration: 0, dataCut: 0, lastContact: 0, radiograph: 0 },
    observedDays: 0,
    lost: 0,
    lossDays,
  }));
  ledger.rows.forEach((row, at) => {
    const group = groups[groupOfRow(row) ?? -1];
    const source = LEDGER_SOURCES[ledger.source[at] ?? 0];
    if (group === undefined || source === undefined) return;
    // In range: the arrays of a ledger are equally long.
    const knownTo = ledger.knownTo[at]!;
    group.knees += 1;
    group.bySource[source] += 1;
    group.observedDays += knownTo - ledger.operated[at]!;
    const isLeaving = source === "lastContact" || source === "radiograph" || source === "emigration";
    if (isLeaving && dataCut !== undefined && dataCut - knownTo > lossDays) group.lost += 1;
  });
  return groups;
}

function requiredColumn(cases: Cases, role: CaseRole): DayColumn {
  const column = dayColumn(cases, role);
  if (column !== undefined) return column;
  throw new UsageError("role-not-in-export", `ledger: the rule needs a date field with the role "${role}"`);
}

function dayColumn(cases: Cases, role: CaseRole): DayColumn | undefined {
  const column = columnOfRole(cases, role);
  return column?.kind === "day" ? column : undefined;
}

function dayOf(column: DayColumn | undefined, row: number): number {
  // In range: rows are rows of the export.
  return column === undefined || column.missing[row] !== 0 ? NEVER : column.values[row]!;
}
