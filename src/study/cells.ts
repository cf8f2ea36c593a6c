import type { NotComputed } from "../base/answer.ts";
import type { Cell, Count } from "../disclosure/exhibit.ts";
import type { Size } from "./estimates.ts";

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
  oneEventChanges?: number,
): Cell {
  const cell: Cell = { kind: "numbers", form: "{0} ({1} to {2})", values, decimals, restsOn };
  return oneEventChanges === undefined ? cell : { ...cell, oneEventChanges };
}

export function noCell(answer: NotComputed): Cell {
  return { kind: "none", because: answer.because };
}

/** Keys of the counts that several sections share. */
export const keys = {
  group: (label: string) => `group/${label}`,
  events: (cause: string, group: string) => `events/${cause}/${group}`,
  eventsToYear: (cause: string, group: string, year: number) => `events/${cause}/${group}/to:${year}`,
  eventsInPeriod: (cause: string, group: string, period: number) =>
    `events/${cause}/${group}/period:${period}`,
} as const;
