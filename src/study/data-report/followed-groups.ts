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
import type { RowCodes, UnitCount } from "../../technique/row-codes.ts";
import { centreLevels, NO_LEVEL, operationYearLevels, type RowLevels } from "../../technique/row-levels.ts";
import { LEVEL_WORDS } from "./data-keys.ts";
import { rowsByLevel, unitsByKind } from "./units-by-level.ts";

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
  const owners = { codes: ledger.rows.map((row) => persons.codes[row] ?? 0), count: persons.count };
  const horizons = years.map((year) => {
    const end = tickOfYear(year, TIME_UNITS.day);
    return { end, isShort: shortOf(end, exit, possible) };
  });
  return computed({
    rule: rule.rule,
    years,
    by: levels.flatMap(({ kind, found }): FollowedBy[] => {
      if (found === undefined || found.labels.length === 0) return [];
      const { labels } = found;
      const codes = ledger.rows.map((row) => found.codes[row] ?? NO_LEVEL);
      const shares = sharesByGroup({ codes, labels }, exit, possible);
      const complete = shares(Number.POSITIVE_INFINITY);
      const placed = rowsByLevel({ labels, codes }, owners);
      const toYears = horizons.map(({ end, isShort }) => ({
        complete: shares(end),
        short: unitsByKind(placed, { marks: isShort, kinds: 2 }).map(([, short]) => short),
      }));
      const { sizes } = rowsByLevel(found, persons);
      const added = ledgerByGroup(ledger, (row) => known(found.codes[row]), labels, { dataCut: cut });
      const groups = added.map(
        (group, at): FollowedGroup => ({
          ...group,
          size: sizes[at] ?? NOBODY,
          complete: complete[at] ?? NO_SHARE,
          toYear: toYears.map((to) => ({
            complete: to.complete[at] ?? NO_SHARE,
            short: to.short[at] ?? NOBODY,
          })),
        }),
      );
      return [{ kind, title: kind === "all" ? "" : LEVEL_WORDS[kind], groups }];
    }),
  });
}

const NOBODY: UnitCount = { units: 0, persons: 0 };
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
  const isWhole = !codes.includes(NO_LEVEL);
  const placed = (column: Int32Array) =>
    isWhole ? column : column.filter((_, at) => codes[at] !== NO_LEVEL);
  const [observed, whole] = [placed(exit), placed(possible)];
  const event = new Uint8Array(observed.length);
  const group = { codes: placed(codes), labels };
  return (end) => {
    const seen = upTo(end, observed);
    return completeness({ exit: seen, event, group }, upTo(end, whole)).groups.map(({ share }) => share);
  };
}

function upTo(end: number, ticks: Int32Array): Int32Array {
  const cut = ticks.slice();
  // The index is below the length.
  for (let at = 0; at < cut.length; at += 1) if (cut[at]! > end) cut[at] = end;
  return cut;
}

/** Who was last seen before a tick up to which they could have been: 1, else 0. */
function shortOf(end: number, exit: Int32Array, possible: Int32Array): Uint8Array {
  const isShort = new Uint8Array(exit.length);
  for (let at = 0; at < isShort.length; at += 1) {
    // In range: both have a tick for each line of the ledger.
    if (exit[at]! < Math.min(end, possible[at]!)) isShort[at] = 1;
  }
  return isShort;
}

function known(code: number | undefined): number | undefined {
  return code === undefined || code === NO_LEVEL ? undefined : code;
}
