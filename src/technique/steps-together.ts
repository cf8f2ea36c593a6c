import { RECORDED_STATES } from "../cases/recorded-state.ts";
import type { RowCodes, UnitCount } from "./row-codes.ts";

/** Two steps in the rows where both were recorded as done or not done. */
export interface StepsTogether {
  readonly both: UnitCount;
  readonly firstOnly: UnitCount;
  readonly secondOnly: UnitCount;
  readonly neither: UnitCount;
}

const DONE = RECORDED_STATES.indexOf("done");
const NOT_DONE = RECORDED_STATES.indexOf("notDone");

/** How often two steps were done together, alone, and not at all: who does what with what. */
export function stepsTogether(
  first: Uint8Array,
  second: Uint8Array,
  rows: ArrayLike<number>,
  persons: RowCodes,
): StepsTogether {
  const units = [0, 0, 0, 0];
  const owners = [0, 0, 0, 0];
  // One bit a cell: whether the person was met in it.
  const met = new Uint8Array(persons.count);
  for (let at = 0; at < rows.length; at += 1) {
    // In range: rows are rows of the export.
    const row = rows[at]!;
    const [one, other] = [first[row]!, second[row]!];
    if ((one !== DONE && one !== NOT_DONE) || (other !== DONE && other !== NOT_DONE)) continue;
    const cell = (one === DONE ? 0 : 2) + (other === DONE ? 0 : 1);
    const person = persons.codes[row]!;
    units[cell]! += 1;
    if ((met[person]! & (1 << cell)) === 0) owners[cell]! += 1;
    met[person]! |= 1 << cell;
  }
  const count = (cell: number): UnitCount => ({ units: units[cell] ?? 0, persons: owners[cell] ?? 0 });
  return { both: count(0), firstOnly: count(1), secondOnly: count(2), neither: count(3) };
}
