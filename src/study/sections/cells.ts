import type { NotComputed } from "../../base/answer.ts";
import type { Cell, Count, Relation } from "../../disclosure/exhibit.ts";
import { keyPart } from "../../disclosure/key-part.ts";
import type { GroupSize, Size } from "../estimates/estimates.ts";

/** A count named by its key; the same quantity has the same key on every page. */
export function sized(key: string, size: Size): Count {
  return { key, units: size.units, persons: size.persons };
}

export function textCell(text: string): Cell {
  return { kind: "text", text };
}

export function countCell(count: Count): Cell {
  return { kind: "count", count };
}

export function shareCell(part: Count, whole: Count): Cell {
  return { kind: "share", part, whole };
}

/** Estimate and limits: "3.2 (1.1 to 5.4)". */
export function limitsCell(
  values: readonly [number, number, number],
  decimals: number,
  restsOn: readonly Count[],
  widening: Pick<Extract<Cell, { kind: "numbers" }>, "oneMoreChanges" | "inSteps"> = {},
): Cell {
  return { kind: "numbers", form: "{0} ({1} to {2})", values, decimals, restsOn, ...widening };
}

/** Why there is no answer. Give the counts it rests on where the reason depends on what was seen. */
export function noCell(answer: NotComputed, restsOn?: readonly Count[]): Cell {
  const cell = { kind: "none", because: answer.because } as const;
  return restsOn === undefined ? cell : { ...cell, restsOn };
}

/** Words that tell of counts: hidden with them. */
export function wordsCell(words: string, restsOn: readonly Count[]): Cell {
  return { kind: "none", because: words, restsOn };
}

/** Keys of the counts that several sections share. Labels may hold any sign. */
export const keys = {
  group: (label: string) => `group/${keyPart(label)}`,
  noTime: "flow/no-time",
  /** Event and group: the key of a curve. */
  curve: (cause: string, group: string) => `${keyPart(cause)}/${keyPart(group)}`,
  /** All groups that are compared. */
  allEvents: (cause: string) => `events/${keyPart(cause)}`,
  events: (cause: string, group: string) => `events/${keys.curve(cause, group)}`,
  eventsToYear: (cause: string, group: string, year: number) => `${keys.events(cause, group)}/to:${year}`,
  eventsInPeriod: (cause: string, group: string, period: number) =>
    `${keys.events(cause, group)}/period:${period}`,
  /** The same count among the rows that a model can use. */
  inModel: (key: string) => `in-model/${key}`,
} as const;

/** The events of the groups compared, together and one by one: a total would give one hidden group back. */
export function eventsTogether(groups: readonly GroupSize[], cause: string): Relation {
  const sum = (pick: (group: GroupSize) => number) => groups.reduce((total, group) => total + pick(group), 0);
  return {
    total: sized(keys.allEvents(cause), {
      units: sum(({ events }) => events.units),
      persons: sum(({ events }) => events.persons),
    }),
    parts: groups.map(({ label, events }) => sized(keys.events(cause, label), events)),
  };
}
