import type { Count, Relation } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import { sized } from "../../cells.ts";
import type { QuestionFeasibility, Showable } from "../question.ts";

/** Keys of the counts that a page on feasibility shares between its tables. */
export const stepKeys = {
  followed: "followed",
  state: (step: string, state: number) => `step/${keyPart(step)}/state-${state}`,
  compared: (step: string) => `step/${keyPart(step)}/compared`,
  within: (step: string) => `step/${keyPart(step)}/within`,
  events: (outcome: string, step: string, part: string) =>
    `step-events/${keyPart(outcome)}/${keyPart(step)}/${part}`,
  surgeons: (step: string) => `step-surgeons/${keyPart(step)}`,
  level: (kind: string, level: string) => `level/${kind}/${keyPart(level)}`,
  levelState: (kind: string, level: string, step: string, state: number) =>
    `level/${kind}/${keyPart(level)}/${keyPart(step)}/state-${state}`,
} as const;

/** The two groups of a question, and all in either. */
export function groupCounts({ title, states, compared }: QuestionFeasibility): readonly Count[] {
  return [
    ...states.slice(0, 2).map((size, state) => sized(stepKeys.state(title, state), size)),
    sized(stepKeys.compared(title), compared.size),
  ];
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
  outcome: string,
  part: Showable,
): { readonly restsOn: readonly Count[]; readonly relations: readonly Relation[] } {
  const { title, compared } = question;
  const rest = (key: string, all: Showable["size"], one: Showable["size"]): Relation => ({
    total: sized(key, all),
    parts: [
      sized(`${key}/within`, one),
      sized(`${key}/outside`, { units: all.units - one.units, persons: all.units - one.units }),
    ],
  });
  const size = rest(stepKeys.compared(title), compared.size, part.size);
  const events = rest(stepKeys.events(outcome, title, "all"), compared.events, part.events);
  return { restsOn: [...size.parts, ...events.parts], relations: [size, events] };
}
