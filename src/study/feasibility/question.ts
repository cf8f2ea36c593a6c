import { type Answer, notComputed } from "../../base/answer.ts";
import type { Cases } from "../../cases/cases.ts";
import { RECORDED_STATES } from "../../cases/recorded-state.ts";
import type { FollowUp } from "../../cohort/cohort.ts";
import { designEffect } from "../../planning/design-effect.ts";
import { detectableHazardRatio } from "../../planning/detectable-hazard-ratio.ts";
import { eventShare } from "../../planning/event-share.ts";
import { type EventsRequired, eventsRequired } from "../../planning/events-required.ts";
import { type YearsRequired, yearsRequired } from "../../planning/years-required.ts";
import { countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";
import { rowMarks } from "../../technique/row-marks.ts";
import { type FollowedRows, type Happened, happenedTo } from "./followed-rows.ts";
import { type Matters, ratioThatMatters } from "./ratio-that-matters.ts";
import type { FeasibilityRules } from "./rules.ts";
import { type Variation, variationOf } from "./variation.ts";
import { restrictions, type Verdict, verdict } from "./verdict.ts";

/** What is asked of an export, before anything is answered. */
export interface AskedQuestion {
  readonly title: string;
  /** Per row of the cases: index into `RECORDED_STATES`; "done" is the first group. */
  readonly states: Uint8Array;
  /** Labels of the states, in the order of `RECORDED_STATES`; the first two are the groups. They name counts on every page. */
  readonly stateLabels: readonly string[];
  readonly matters: Matters;
  /** Year at which the difference that matters is counted. */
  readonly year: number;
  /** Chance of a false alarm of this one comparison, planned comparisons counted in. */
  readonly level: number;
  /** Ends of the periods; each is a question of its own. */
  readonly periods: readonly number[];
  /** Fields of the declared strata. */
  readonly strata: readonly string[];
  /** Deaths and other outcomes come first, so risks are crude; else they count as leaving. */
  readonly crude: boolean;
}

/** What one part of those compared could show. */
export interface Showable {
  readonly size: UnitCount;
  readonly events: UnitCount;
  readonly exposedShare: number;
  readonly smallest: Answer<{ readonly ratio: number; readonly reciprocal: number }>;
}

/** The part that a restriction leaves, and those it leaves out. */
export interface ShowableWithin extends Showable {
  readonly outside: Pick<Showable, "size" | "events">;
}

/** Everything the verdict on one question rests on: totals and shares, never events by group. */
export interface QuestionFeasibility {
  readonly title: string;
  readonly stateLabels: readonly string[];
  /** In the order of `RECORDED_STATES`. */
  readonly states: readonly UnitCount[];
  readonly variation: Variation;
  /** Factor by which alike results of one surgeon widen the variance; only where the step is fixed within surgeon. */
  readonly designFactor: Answer<{ readonly factor: number }> | undefined;
  readonly compared: Showable;
  /** Where there is a restriction. */
  readonly within: ShowableWithin | undefined;
  readonly risk: number;
  readonly matters: Answer<{ readonly ratio: number }>;
  readonly needed: EventsRequired;
  readonly years: YearsRequired;
  /** By period: its events alone. */
  readonly periods: readonly (Showable & { readonly fromYear: number; readonly toYear: number | null })[];
  readonly verdict: Verdict;
  readonly level: number;
}

const DONE = RECORDED_STATES.indexOf("done");

/** What an export could show about one question, whatever it does show. */
export function questionFeasibility(
  cases: Cases,
  followUp: FollowUp,
  asked: AskedQuestion,
  rules: FeasibilityRules,
  persons: RowCodes,
): QuestionFeasibility {
  const { states, title, stateLabels, level } = asked;
  const variation = variationOf(cases, followUp.rows, states, asked.strata, rules, persons);
  const sizes = RECORDED_STATES.map((_, state) =>
    countUnits(
      followUp.rows.filter((row) => states[row] === state),
      persons,
    ),
  );
  const { rows: comparedRows } = variation.compared;
  const designFactor = variation.fixed ? designOf(variation, rules) : undefined;
  const factor = designFactor?.computed ? designFactor.factor : 1;
  const show = (followed: FollowedRows, varianceFactor: number) =>
    showable(happenedTo(followUp, followed, persons), states, { level, power: rules.power, varianceFactor });
  const withinOf = (rows: Int32Array, all: Int32Array, varianceFactor: number): ShowableWithin => {
    const inside = rowMarks(rows, cases.rows);
    const outside = all.filter((row) => inside[row] === 0);
    return { ...show({ rows }, varianceFactor), outside: happenedTo(followUp, { rows: outside }, persons) };
  };
  const compared = show({ rows: comparedRows }, factor);
  const kept = restrictions(variation.standing, rules);
  const isWithinSurgeons = kept.some((one) => one === variation.standing.fixed?.withinSurgeons);
  const within =
    kept.length === 0
      ? undefined
      : withinOf(variation.rowsWithin(kept), comparedRows, isWithinSurgeons ? 1 : factor);
  const used = within ?? compared;
  const happened = happenedTo(followUp, { rows: comparedRows }, persons);
  const risk = riskAt(happened, asked);
  const matters = ratioThatMatters(asked.matters, risk, used.exposedShare);
  const needed = eventsNeeded(matters, used.exposedShare, {
    level,
    power: rules.power,
    varianceFactor: within !== undefined && isWithinSurgeons ? 1 : factor,
  });
  const count = (state: number) => sizes[state]?.units ?? 0;
  const [done, notDone, notApplicable, notRecorded] = [count(0), count(1), count(2), count(3)];
  return {
    title,
    stateLabels,
    states: sizes,
    variation,
    designFactor,
    compared,
    within,
    risk,
    matters,
    needed,
    years: yearsNeeded(needed, happened, variation, used.size.units, rules),
    periods: periodsOf(asked.periods).map((span) => ({
      ...span,
      ...show({ rows: comparedRows, ...span }, factor),
    })),
    verdict: verdict(
      {
        done,
        notDone,
        notApplicable,
        notRecorded,
        events: used.events.units,
        ...variation.standing,
        smallest: used.smallest,
        matters,
      },
      rules,
    ),
    level,
  };
}

interface Seen {
  readonly level: number;
  readonly power: number;
  readonly varianceFactor: number;
}

function showable(happened: Happened, states: Uint8Array, seen: Seen): Showable {
  const { size, events, rows } = happened;
  const done = rows.reduce((sum, row) => sum + (states[row] === DONE ? 1 : 0), 0);
  const exposedShare = size.units === 0 ? 0 : done / size.units;
  return {
    size,
    events,
    exposedShare,
    smallest: detectableHazardRatio({ events: events.units, exposedShare, ...seen }),
  };
}

function designOf({ surgeons }: Variation, rules: FeasibilityRules) {
  return surgeons === undefined
    ? notComputed("no-surgeons", "no field names the surgeon")
    : designEffect({ sizes: surgeons.sizes }, { intraclass: rules.intraclass });
}

/** At constant hazards, which is what the formulas of planning take as well. */
function riskAt({ hazardPerYear, lossPerYear }: Happened, { year, crude }: AskedQuestion): number {
  if (hazardPerYear === 0) return 0;
  const lost = crude ? { lossPerYear } : {};
  return eventShare(hazardPerYear, { accrualYears: 0, followUpYears: year, ...lost });
}

function eventsNeeded(
  matters: Answer<{ readonly ratio: number }>,
  exposedShare: number,
  seen: Seen,
): EventsRequired {
  if (!matters.computed) return matters;
  return eventsRequired({ hazardRatio: matters.ratio, exposedShare, ...seen });
}

/** At the volume of those the verdict speaks of, over the years in which there were operations. */
function yearsNeeded(
  needed: EventsRequired,
  { hazardPerYear, lossPerYear }: Happened,
  { operationYears }: Variation,
  units: number,
  { longestYears }: FeasibilityRules,
): YearsRequired {
  if (!needed.computed) return needed;
  if (!operationYears.computed) return operationYears;
  return yearsRequired({
    events: needed.unrounded,
    unitsPerYear: units / operationYears.years,
    hazardPerYear,
    lossPerYear,
    longestYears,
  });
}

function periodsOf(ends: readonly number[]): { readonly fromYear: number; readonly toYear: number | null }[] {
  if (ends.length === 0) return [];
  const starts = [0, ...ends];
  return starts.map((fromYear, at) => ({ fromYear, toYear: ends[at] ?? null }));
}
