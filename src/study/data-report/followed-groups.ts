import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { requiredDayNumber } from "../../base/day-number.ts";
import { TIME_UNITS, tickOfYear } from "../../base/time-unit.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import type { CensoringRule } from "../../cohort/endpoint.ts";
import {
  type FollowUpLedger,
  followUpLedger,
  LEDGER_SOURCES,
  type LedgerGroup,
  ledgerByGroup,
} from "../../cohort/follow-up-ledger.ts";
import { selectCohort } from "../../cohort/select-cohort.ts";
import { completeness } from "../../survival/completeness.ts";
import { allRows, countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";
import { centreLevels, NO_LEVEL, operationYearLevels, type RowLevels } from "../../technique/row-levels.ts";
import { LEVEL_WORDS } from "./data-keys.ts";

/** Years of follow-up up to which completeness is told. */
const FOLLOW_UP_YEARS = [1, 2, 3, 5, 7, 10, 15, 20] as const;

type Share = Answer<{ readonly share: number }>;

export interface FollowedGroup extends LedgerGroup {
  /** Everybody of the group, with a line in the ledger or not. */
  readonly size: UnitCount;
  /** Over all follow-up. */
  readonly complete: Share;
  /** Up to each of the years of follow-up, and how many were last seen before it, without event and short of the cut. */
  readonly toYear: readonly { readonly complete: Share; readonly short: UnitCount }[];
}

export interface FollowedBy {
  readonly kind: "all" | "year" | "centre";
  readonly title: string;
  readonly groups: readonly FollowedGroup[];
}

export interface FollowedGroups {
  readonly rule: CensoringRule;
  readonly years: readonly number[];
  readonly by: readonly FollowedBy[];
}

/** To which day the knees of each group are known, by whom, and how completely; or why that cannot be told. */
export function followedGroups(cases: Cases, persons: RowCodes): Answer<FollowedGroups> {
  const rule = ruleOf(cases);
  if (!rule.computed) return rule;
  const ledger = followUpLedger(cases, selectCohort(cases, []), rule.rule);
  if (ledger.rows.length === 0) return notComputed("nobody-followed", "nothing is known after any operation");
  const { dataCut } = cases.descriptor.study;
  const cut = dataCut === undefined ? undefined : requiredDayNumber(dataCut, "study.dataCut");
  const exit = ledger.knownTo.map((day, at) => day - (ledger.operated[at] ?? day));
  const possible = possibleTicks(ledger, exit, cut);
  const longest = possible.reduce((most, ticks) => Math.max(most, ticks), 0);
  const years = FOLLOW_UP_YEARS.filter((year) => tickOfYear(year, TIME_UNITS.day) <= longest);
  const everybody: RowLevels = { title: "all", labels: ["all"], codes: new Int32Array(cases.rows) };
  const levels = [
    { kind: "all" as const, found: everybody },
    { kind: "centre" as const, found: centreLevels(cases) },
    { kind: "year" as const, found: operationYearLevels(cases) },
  ];
  return computed({
    rule: rule.rule,
    years,
    by: levels.flatMap(({ kind, found }): FollowedBy[] => {
      if (found === undefined || found.labels.length === 0) return [];
      const codes = Int32Array.from(ledger.rows, (row) => found.codes[row] ?? NO_LEVEL);
      const shares = sharesByGroup({ codes, labels: found.labels }, exit, possible);
      const added = ledgerByGroup(ledger, (row) => known(found.codes[row]), found.labels, { dataCut: cut });
      const groups = added.map(
        (group, at): FollowedGroup => ({
          ...group,
          size: countUnits(
            allRows(cases.rows).filter((row) => found.codes[row] === at),
            persons,
          ),
          complete: shares(Number.POSITIVE_INFINITY)[at] ?? NO_SHARE,
          toYear: years.map((year) => {
            const end = tickOfYear(year, TIME_UNITS.day);
            const short = ledger.rows.filter(
              (_, place) => codes[place] === at && (exit[place] ?? 0) < Math.min(end, possible[place] ?? 0),
            );
            return { complete: shares(end)[at] ?? NO_SHARE, short: countUnits(short, persons) };
          }),
        }),
      );
      return [{ kind, title: kind === "all" ? "" : LEVEL_WORDS[kind], groups }];
    }),
  });
}

const NO_SHARE: Share = notComputed("no-cases", "nobody is followed");

/** The last contact where the export has one, because only then can loss be seen; else the data cut where it may be used. */
function ruleOf(cases: Cases): Answer<{ readonly rule: CensoringRule }> {
  const has = (role: "operationDate" | "lastFollowUpDate") => columnOfRole(cases, role)?.kind === "day";
  const { revisionCapture, deathCapture, dataCut } = cases.descriptor.study;
  if (!has("operationDate")) return notComputed("durations-only", "the export holds no dates of operation");
  if (has("lastFollowUpDate")) return computed({ rule: "lastContact" });
  const isSeen = revisionCapture === "national" && deathCapture === "national" && dataCut !== undefined;
  if (isSeen) return computed({ rule: "dataCut" });
  return notComputed(
    "no-end-of-follow-up",
    "the export holds no date of last contact, and revisions and deaths are not captured everywhere up to a stated data cut",
  );
}

/** Up to event, death or data cut; without a data cut nothing more was possible than was seen. */
function possibleTicks(
  { source, operated }: FollowUpLedger,
  exit: Int32Array,
  cut: number | undefined,
): Int32Array {
  return exit.map((ticks, at) => {
    const isLeaving = !["revision", "death"].includes(LEDGER_SOURCES[source[at] ?? 0] ?? "");
    return isLeaving && cut !== undefined ? Math.max(ticks, cut - (operated[at] ?? cut)) : ticks;
  });
}

/** Completeness up to a tick, by group. */
function sharesByGroup(
  { codes, labels }: Pick<RowLevels, "codes" | "labels">,
  exit: Int32Array,
  possible: Int32Array,
): (end: number) => readonly Share[] {
  const placed = Int32Array.from(codes.keys()).filter((at) => codes[at] !== NO_LEVEL);
  const group = { codes: Uint16Array.from(placed, (at) => codes[at] ?? 0), labels };
  return (end) => {
    const cutAt = (ticks: Int32Array) => Int32Array.from(placed, (at) => Math.min(end, ticks[at] ?? 0));
    const event = new Uint8Array(placed.length);
    return completeness({ exit: cutAt(exit), event, group }, cutAt(possible)).groups.map(
      ({ share }) => share,
    );
  };
}

function known(code: number | undefined): number | undefined {
  return code === undefined || code === NO_LEVEL ? undefined : code;
}
