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
  const cells = levels.labels.map(() => RECORDED_STATES.map((): number[] => []));
  for (let at = 0; at < rows.length; at += 1) {
    // In range: rows are rows of the export, states are indexes into RECORDED_STATES.
    const row = rows[at]!;
    const level = levels.codes[row]!;
    if (level !== NO_LEVEL) cells[level]![states[row]!]!.push(row);
  }
  // One mark a person for all cells: a fresh list for each would cost persons times cells.
  const seenIn = new Int32Array(persons.count).fill(-1);
  const count = (found: readonly number[], mark: number): UnitCount => {
    let owners = 0;
    for (const row of found) {
      const person = persons.codes[row]!;
      if (seenIn[person] !== mark) owners += 1;
      seenIn[person] = mark;
    }
    return { units: found.length, persons: owners };
  };
  return cells.flatMap((found, level): LevelStates[] => {
    if (found.every((list) => list.length === 0)) return [];
    const first = level * (kinds + 1);
    return [
      {
        label: levels.labels[level] ?? "",
        states: found.map((list, state) => count(list, first + state)),
        all: count(found.flat(), first + kinds),
      },
    ];
  });
}
