import type { Count, Relation } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import type { UnitCount } from "../../../technique/row-codes.ts";
import { keys, sized } from "../../sections/cells.ts";
import type { QuestionFeasibility, ShowableWithin } from "../question.ts";
import type { FeasibilityRules } from "../rules.ts";

/** The questions of a page and everybody they are asked of. */
export interface StepSheet {
  readonly questions: readonly QuestionFeasibility[];
  readonly followed: UnitCount;
  readonly rules: FeasibilityRules;
  readonly unit: { readonly one: string; readonly many: string };
}

/** Keys of the counts that a page on feasibility shares between its tables. */
export const stepKeys = {
  followed: "recording/all",
  compared: (step: string) => `step/${keyPart(step)}/compared`,
  within: (step: string) => `step/${keyPart(step)}/within`,
  /** Of both groups together. */
  events: (outcome: string, step: string) => `step-events/${keyPart(outcome)}/${keyPart(step)}`,
  surgeons: (step: string) => `step-surgeons/${keyPart(step)}`,
  level: (kind: string, level: string) => `level/${kind}/${keyPart(level)}`,
  levelState: (kind: string, level: string, step: string, state: number) =>
    `level/${kind}/${keyPart(level)}/${keyPart(step)}/state-${state}`,
} as const;

/** How many stand in each state; a group has the same key wherever it stands. */
export function stateCounts({ stateLabels, states }: QuestionFeasibility): readonly Count[] {
  return states.map((size, state) => sized(keys.group(stateLabels[state] ?? ""), size));
}

/** The two groups of a question, and all in either. */
export function groupCounts(question: QuestionFeasibility): readonly Count[] {
  const { title, compared } = question;
  return [...stateCounts(question).slice(0, 2), sized(stepKeys.compared(title), compared.size)];
}

/** Done and not done add up to those compared. */
export function comparedRelation(question: QuestionFeasibility): Relation {
  const [done, notDone, compared] = groupCounts(question);
  if (done === undefined || notDone === undefined || compared === undefined) {
    throw new Error("a question has two groups and their sum");
  }
  return { total: compared, parts: [done, notDone] };
}

/** A part of those compared, its events, and what both leave: a small rest would be given back. */
export function partCounts(
  question: QuestionFeasibility,
  eventsKey: string,
  { size: inside, events: eventsInside, outside }: ShowableWithin,
): { readonly restsOn: readonly Count[]; readonly relations: readonly Relation[] } {
  const { title, compared } = question;
  const split = (key: string, all: UnitCount, one: UnitCount, other: UnitCount): Relation => ({
    total: sized(key, all),
    parts: [sized(`${key}/within`, one), sized(`${key}/outside`, other)],
  });
  const size = split(stepKeys.compared(title), compared.size, inside, outside.size);
  const events = split(eventsKey, compared.events, eventsInside, outside.events);
  return { restsOn: [...size.parts, ...events.parts], relations: [size, events] };
}
