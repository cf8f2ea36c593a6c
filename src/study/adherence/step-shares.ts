import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { RECORDED_STATES, type RecordedState } from "../../cases/recorded-state.ts";
import { type ProportionInterval, proportionInterval } from "../../summaries/proportion-interval.ts";
import type { RowCodes, UnitCount } from "../../technique/row-codes.ts";

/** How often a step was done among some rows. */
export interface StepShares {
  /** In the order of `RECORDED_STATES`. */
  readonly states: readonly UnitCount[];
  readonly all: UnitCount;
  /** All but those to which the step does not apply. */
  readonly applicable: UnitCount;
  /** Done or not done. */
  readonly recorded: UnitCount;
  /** Done among those recorded; Wilson's limits, every unit taken as independent. */
  readonly share: ProportionInterval;
  /** Done among those where the step applies, whatever was not written down. */
  readonly bounds: Answer<ShareBounds>;
}

/** What a share can be, whatever was not written down: if none, and if all, of the unrecorded were done. */
export interface ShareBounds {
  readonly lowest: number;
  readonly highest: number;
  /** Lower limit of the lowest share, and upper limit of the highest: chance counted in. */
  readonly low: number;
  readonly high: number;
}

/** Sets of states whose units and persons are counted: each by itself, and what they add up to. */
const SETS: readonly (readonly RecordedState[])[] = [
  ...RECORDED_STATES.map((state) => [state]),
  ["done", "notDone", "notRecorded"],
  ["done", "notDone"],
  RECORDED_STATES,
];
/** Per state: a bit for every set that holds it. */
const BITS = RECORDED_STATES.map((state) =>
  SETS.reduce((bits, set, at) => (set.includes(state) ? bits + (1 << at) : bits), 0),
);

/**
 * Counts and shares of one step among the rows given. Blank never means no.
 *
 * `marks` holds a zero for every person, and does so again afterwards: a fresh one for every step and level would cost
 * persons times cells.
 */
export function stepShares(
  states: Uint8Array,
  rows: ArrayLike<number>,
  persons: RowCodes,
  level: number,
  marks = new Uint8Array(persons.count),
): StepShares {
  const counts = countSets(states, rows, persons, marks);
  const [done, notDone, notApplicable, notRecorded, applicable, recorded, all] = counts as UnitCounts;
  return {
    states: [done, notDone, notApplicable, notRecorded],
    all,
    applicable,
    recorded,
    share: proportionInterval({ count: done.units, total: recorded.units }, { level }),
    bounds: whateverWasNotWritten(done.units, recorded.units, applicable.units, level),
  };
}

type UnitCounts = [UnitCount, UnitCount, UnitCount, UnitCount, UnitCount, UnitCount, UnitCount];

function countSets(
  states: Uint8Array,
  rows: ArrayLike<number>,
  { codes }: RowCodes,
  marks: Uint8Array,
): readonly UnitCount[] {
  const [units, owners] = [SETS.map(() => 0), SETS.map(() => 0)];
  for (let at = 0; at < rows.length; at += 1) {
    // In range: rows are rows of the export, states are indexes into RECORDED_STATES.
    const bits = BITS[states[rows[at]!]!]!;
    const person = codes[rows[at]!]!;
    const fresh = bits & ~marks[person]!;
    marks[person]! |= bits;
    for (let set = 0; set < SETS.length; set += 1) {
      units[set]! += (bits >> set) & 1;
      owners[set]! += (fresh >> set) & 1;
    }
  }
  for (let at = 0; at < rows.length; at += 1) marks[codes[rows[at]!]!] = 0;
  return SETS.map((_, set) => ({ units: units[set] ?? 0, persons: owners[set] ?? 0 }));
}

function whateverWasNotWritten(
  done: number,
  recorded: number,
  applicable: number,
  level: number,
): StepShares["bounds"] {
  const lowest = proportionInterval({ count: done, total: applicable }, { level });
  const highest = proportionInterval({ count: done + applicable - recorded, total: applicable }, { level });
  if (!lowest.computed || !highest.computed) return notComputed("no-cases", "the step applies nowhere");
  return computed({ lowest: lowest.share, highest: highest.share, low: lowest.low, high: highest.high });
}
