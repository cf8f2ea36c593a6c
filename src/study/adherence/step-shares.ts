import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { RECORDED_STATES, type RecordedState } from "../../cases/recorded-state.ts";
import { type ProportionInterval, proportionInterval } from "../../summaries/proportion-interval.ts";
import { countUnits, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";

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
  /** Done among those where the step applies, if none and if all of the unrecorded were done. */
  readonly bounds: Answer<{ readonly lowest: number; readonly highest: number }>;
}

const UNRECORDED: RecordedState = "notRecorded";

/** Counts and shares of one step among the rows given. Blank never means no. */
export function stepShares(
  states: Uint8Array,
  rows: ArrayLike<number>,
  persons: RowCodes,
  level: number,
): StepShares {
  const count = (wanted: readonly RecordedState[]) => {
    const places = new Set(wanted.map((state) => RECORDED_STATES.indexOf(state)));
    // In range: rows are rows of the export.
    return countUnits(
      Array.from(rows).filter((row) => places.has(states[row]!)),
      persons,
    );
  };
  const applicable = count(["done", "notDone", UNRECORDED]);
  const recorded = count(["done", "notDone"]);
  const done = count(["done"]);
  return {
    states: RECORDED_STATES.map((state) => count([state])),
    all: countUnits(rows, persons),
    applicable,
    recorded,
    share: proportionInterval({ count: done.units, total: recorded.units }, { level }),
    bounds: whateverWasNotWritten(done.units, recorded.units, applicable.units),
  };
}

function whateverWasNotWritten(done: number, recorded: number, applicable: number): StepShares["bounds"] {
  if (applicable === 0) return notComputed("no-cases", "the step applies nowhere");
  return computed({ lowest: done / applicable, highest: (done + applicable - recorded) / applicable });
}
