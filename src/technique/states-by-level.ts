import { RECORDED_STATES } from "../cases/recorded-state.ts";
import type { RowCodes, UnitCount } from "./row-codes.ts";
import { NO_LEVEL, type RowLevels } from "./row-levels.ts";

/** How often each of the four states was met at one level. */
export interface LevelStates {
  readonly label: string;
  /** In the order of `RECORDED_STATES`. */
  readonly states: readonly UnitCount[];
  readonly all: UnitCount;
}

/**
 * The four recorded states by surgeon, centre, year or stratum: who does the step, and where it is written down.
 *
 * Levels that no row belongs to are left out, as are rows that belong to no level. A person with two units can stand
 * under several states and levels.
 */
export function statesByLevel(
  states: Uint8Array,
  rows: ArrayLike<number>,
  levels: RowLevels,
  persons: RowCodes,
): LevelStates[] {
  const kinds = RECORDED_STATES.length;
  const { sorted, from } = sortedByCell(states, rows, levels);
  // One mark a person for all cells: a fresh list for each would cost persons times cells.
  const seenIn = new Int32Array(persons.count).fill(-1);
  let marks = 0;
  const count = (first: number, end: number): UnitCount => {
    const [start, stop] = [from[first] ?? 0, from[end] ?? 0];
    let owners = 0;
    for (let at = start; at < stop; at += 1) {
      const person = persons.codes[sorted[at]!]!;
      if (seenIn[person] !== marks) owners += 1;
      seenIn[person] = marks;
    }
    marks += 1;
    return { units: stop - start, persons: owners };
  };
  return levels.labels.flatMap((label, level): LevelStates[] => {
    const cell = level * kinds;
    const all = count(cell, cell + kinds);
    if (all.units === 0) return [];
    return [{ label, states: RECORDED_STATES.map((_, state) => count(cell + state, cell + state + 1)), all }];
  });
}

/** Rows at some level in the order of level and state, with where each of these cells begins. */
function sortedByCell(states: Uint8Array, rows: ArrayLike<number>, levels: RowLevels) {
  const kinds = RECORDED_STATES.length;
  const from = new Int32Array(levels.labels.length * kinds + 1);
  const cells = new Int32Array(rows.length);
  for (let at = 0; at < rows.length; at += 1) {
    // In range: rows are rows of the export, states are indexes into RECORDED_STATES.
    const row = rows[at]!;
    const level = levels.codes[row]!;
    cells[at] = level === NO_LEVEL ? NO_LEVEL : level * kinds + states[row]!;
    if (level !== NO_LEVEL) from[cells[at]! + 1]! += 1;
  }
  for (let cell = 1; cell < from.length; cell += 1) from[cell]! += from[cell - 1]!;
  const next = from.slice();
  const sorted = new Int32Array(from.at(-1) ?? 0);
  for (let at = 0; at < rows.length; at += 1) {
    const cell = cells[at]!;
    if (cell !== NO_LEVEL) sorted[next[cell]!++] = rows[at]!;
  }
  return { sorted, from };
}
