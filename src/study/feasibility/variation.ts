import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { TIME_UNITS } from "../../base/time-unit.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import { type BetweenGroupShare, betweenGroupShare } from "../../summaries/between-group-share.ts";
import { type LevelOverlap, levelOverlap } from "../../technique/level-overlap.ts";
import { countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";
import {
  crossedLevels,
  fieldLevels,
  NO_LEVEL,
  operationYearLevels,
  type RowLevels,
  surgeonLevels,
} from "../../technique/row-levels.ts";
import { rowMarks } from "../../technique/row-marks.ts";
import type { FeasibilityRules } from "./rules.ts";
import type { Overlap, Standing } from "./verdict.ts";

/** Where a step was both done and not done, as counts. */
export interface WhereBoth {
  readonly overlap: LevelOverlap;
  /** Compared at levels with both, and the others compared. */
  readonly units: UnitCount;
  readonly others: UnitCount;
}

/** Who does a step, when, and for whom. */
export interface Variation {
  readonly compared: { readonly rows: Int32Array; readonly size: UnitCount };
  readonly surgeons:
    | (WhereBoth & {
        readonly count: number;
        /** Units compared of each surgeon. */
        readonly sizes: readonly number[];
        readonly betweenShare: BetweenGroupShare;
      })
    | undefined;
  /** Over half of the variance of the step lies between surgeons (`fixedFrom`). */
  readonly fixed: boolean;
  /** Stretches of years. */
  readonly years: WhereBoth | undefined;
  /** A surgeon in a stretch of years. */
  readonly surgeonsAndYears: WhereBoth | undefined;
  readonly strata: readonly (WhereBoth & { readonly title: string })[];
  /** From the first operation to the last. */
  readonly operationYears: Answer<{ readonly years: number }>;
  /** What of this the verdict sees. */
  readonly standing: Pick<Standing, "overlaps"> & { readonly fixed?: NonNullable<Standing["fixed"]> };
  /** Rows compared that lie at levels with both for each of these restrictions. */
  readonly rowsWithin: (kept: readonly Overlap[]) => Int32Array;
}

/** States below this are done and not done, which come first. */
const COMPARED = 2;

/** Looks at the exposure alone: nothing here knows what happened afterwards. */
export function variationOf(
  cases: Cases,
  followed: Int32Array,
  states: Uint8Array,
  strata: readonly string[],
  rules: FeasibilityRules,
  persons: RowCodes,
): Variation {
  const rows = followed.filter((row) => (states[row] ?? COMPARED) < COMPARED);
  const whereBoth = (levels: RowLevels): WhereBoth => {
    const overlap = levelOverlap(states, rows, levels, rules.margin);
    const inside = rowMarks(overlap.rowsWithBoth, cases.rows);
    return {
      overlap,
      units: countUnits(overlap.rowsWithBoth, persons),
      others: countUnits(
        rows.filter((row) => inside[row] === 0),
        persons,
      ),
    };
  };
  const both = (levels: RowLevels | undefined) => (levels === undefined ? undefined : whereBoth(levels));
  const surgeon = surgeonLevels(cases);
  // Single years of a small unit are a matter of chance.
  const blocks = operationYearLevels(cases, rules.yearsInBlock);
  const bySurgeon = both(surgeon);
  const surgeons =
    surgeon === undefined || bySurgeon === undefined
      ? undefined
      : { ...bySurgeon, ...surgeonShares(rows, states, surgeon) };
  const byYear = both(blocks);
  const byStratum = strata.map((name) => {
    const levels = fieldLevels(cases, name);
    return { title: levels.title, ...whereBoth(levels) };
  });
  const fixed = surgeons?.betweenShare.computed === true && surgeons.betweenShare.share > rules.fixedFrom;
  const share = ({ overlap }: WhereBoth) =>
    overlap.compared === 0 ? 0 : overlap.rowsWithBoth.length / overlap.compared;
  const found = new Map<Overlap, Int32Array>();
  const noted = (one: Overlap, where: WhereBoth) => {
    found.set(one, where.overlap.rowsWithBoth);
    return one;
  };
  const overlaps = [
    ...(byYear === undefined
      ? []
      : [
          noted(
            {
              within: `operations of ${spans(byYear.overlap.levelsWithBoth)}`,
              levels: "periods of operation",
              share: share(byYear),
            },
            byYear,
          ),
        ]),
    ...byStratum.map((stratum) =>
      noted(
        {
          within: `${stratum.title}: ${stratum.overlap.levelsWithBoth.join(" or ")}`,
          levels: `levels of ${stratum.title}`,
          share: share(stratum),
        },
        stratum,
      ),
    ),
  ];
  const withinSurgeons =
    surgeons === undefined
      ? undefined
      : noted({ within: "surgeons who do both", levels: "surgeons", share: share(surgeons) }, surgeons);
  return {
    compared: { rows, size: countUnits(rows, persons) },
    surgeons,
    fixed,
    years: byYear,
    surgeonsAndYears:
      surgeon === undefined || blocks === undefined ? undefined : both(crossedLevels(surgeon, blocks)),
    strata: byStratum,
    operationYears: operationYears(cases, followed),
    standing:
      fixed && surgeon !== undefined && withinSurgeons !== undefined
        ? { overlaps, fixed: { withinSurgeons, surgeonsOnFewerSide: fewerSide(states, rows, surgeon) } }
        : { overlaps },
    rowsWithin(kept) {
      const marks = kept.map((one) => rowMarks(found.get(one) ?? new Int32Array(0), cases.rows));
      return rows.filter((row) => marks.every((inside) => inside[row] === 1));
    },
  };
}

function surgeonShares(rows: Int32Array, states: Uint8Array, { codes, labels }: RowLevels) {
  const known = rows.filter((row) => codes[row] !== NO_LEVEL);
  const counts = new Int32Array(labels.length);
  for (const row of known) counts[codes[row] ?? 0] = (counts[codes[row] ?? 0] ?? 0) + 1;
  const sizes = [...counts].filter((size) => size > 0);
  const done = new Float64Array(known).map((row) => (states[row] === 0 ? 1 : 0));
  return {
    count: sizes.length,
    sizes,
    betweenShare: betweenGroupShare(
      done,
      known.map((row) => codes[row] ?? 0),
    ),
  };
}

/** Surgeons who mostly do it, or mostly do not, whichever are fewer; half and half counts to both. */
function fewerSide(states: Uint8Array, rows: Int32Array, surgeon: RowLevels): number {
  const { under, between, over } = levelOverlap(states, rows, surgeon, 0.5);
  return Math.min(under, over) + between;
}

function operationYears(cases: Cases, rows: Int32Array): Answer<{ readonly years: number }> {
  const column = columnOfRole(cases, "operationDate");
  if (column?.kind !== "day") {
    return notComputed("no-dates", "the export holds no dates of operation, so its volume is unknown");
  }
  const days = rows.map((row) => column.values[row] ?? 0);
  if (days.length === 0) return notComputed("no-units", "nobody is followed");
  const first = days.reduce((least, day) => Math.min(least, day));
  const last = days.reduce((most, day) => Math.max(most, day));
  return computed({ years: (last - first + 1) / TIME_UNITS.day.perYear });
}

/** "2008–2013, 2017–2019": neighbouring stretches as one. */
function spans(blocks: readonly string[]): string {
  const stretches: [number, number][] = [];
  for (const block of blocks) {
    const [from = 0, to = from] = block.split("–").map(Number);
    const last = stretches.at(-1);
    if (last !== undefined && from === last[1] + 1) last[1] = to;
    else stretches.push([from, to]);
  }
  return stretches.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(", ");
}
