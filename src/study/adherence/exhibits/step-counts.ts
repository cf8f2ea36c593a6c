import type { Count, Relation } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import type { UnitCount } from "../../../technique/row-codes.ts";
import { sized } from "../../sections/cells.ts";
import type { StepShares } from "../step-shares.ts";

/** The counts of one step in one place: everybody, a year, before a day. */
export interface StepCounts {
  readonly done: Count;
  readonly notDone: Count;
  readonly notApplicable: Count;
  readonly notRecorded: Count;
  readonly applicable: Count;
  readonly recorded: Count;
  readonly all: Count;
}

/** Where rows at no level stand: one part more than the place of any level has, whatever its label. */
export const nowhere = (id: string) => `${id}/elsewhere/at no level`;

/** Kinds of levels by year. */
export const BY_YEAR = "by-year";

/** Everybody that the plan looks at. */
export const EVERYBODY = "everybody";
const NOBODY: UnitCount = { units: 0, persons: 0 };

/** The counts by name; the same count has the same key in every table. */
export function stepCounts(place: string, label: string, shares: StepShares): StepCounts {
  const key = `adherence/${place}/${keyPart(label)}`;
  // The whole is what the page is about: years and strata are given up before it.
  const count = (name: string, size: UnitCount): Count => ({
    ...sized(name, size),
    ...(place === EVERYBODY ? { keep: true as const } : {}),
  });
  const [done = NOBODY, notDone = NOBODY, notApplicable = NOBODY, notRecorded = NOBODY] = shares.states;
  return {
    done: count(`${key}/done`, done),
    notDone: count(`${key}/not-done`, notDone),
    notApplicable: count(`${key}/not-applicable`, notApplicable),
    notRecorded: count(`${key}/not-recorded`, notRecorded),
    applicable: count(`${key}/applicable`, shares.applicable),
    recorded: count(`${key}/recorded`, shares.recorded),
    all: count(`adherence/${place}/all`, shares.all),
  };
}

/** What adds up to what within one place. */
export function stepRelations(counts: StepCounts): readonly Relation[] {
  const { done, notDone, notApplicable, notRecorded, applicable, recorded, all } = counts;
  return [
    { total: all, parts: [applicable, notApplicable] },
    { total: applicable, parts: [recorded, notRecorded] },
    { total: recorded, parts: [done, notDone] },
  ];
}

/** What the parts of a whole add up to, count by count. */
export function sumRelations(whole: StepCounts, parts: readonly StepCounts[]): readonly Relation[] {
  return (Object.keys(whole) as (keyof StepCounts)[]).map((name) => ({
    total: whole[name],
    parts: parts.map((one) => one[name]),
  }));
}
