import type { Cases } from "../cases/cases.ts";
import { RECORDED_STATE_WORDS, RECORDED_STATES, type RecordedState } from "../cases/recorded-state.ts";
import type { TechniqueStep } from "../cases/roles.ts";
import { countUnits, personCodes, type UnitCount } from "./row-codes.ts";
import { fieldTitle, stepStates } from "./step-states.ts";

/** How often a step was recorded in which state. */
export interface StepRecording {
  readonly step: TechniqueStep;
  readonly title: string;
  /** All four states, in the order of `RECORDED_STATES`; those never met have zeros. */
  readonly states: readonly (UnitCount & { readonly state: RecordedState; readonly label: string })[];
  /** Of those not recorded: written down after the revision. */
  readonly recordedAfterRevision: number;
  /** The same by what was written down; states that nobody wrote down late are left out. */
  readonly writtenLate: readonly (UnitCount & { readonly state: RecordedState; readonly label: string })[];
}

/**
 * How completely a technique step is recorded among the given rows.
 *
 * Blank never means no, and a record dated after the revision counts as not recorded; the four counts add up to the
 * number of rows. A person with two knees can stand under several states.
 */
export function stepRecording(cases: Cases, rows: ArrayLike<number>, step: TechniqueStep): StepRecording {
  const { column, states, stateOfCode, late } = stepStates(cases, step);
  const persons = personCodes(cases);
  const [rowsOfState, lateRowsOfState] = [rowsByState(), rowsByState()];
  for (let at = 0; at < rows.length; at += 1) {
    // In range: rows are rows of the export, states are indexes into RECORDED_STATES.
    const row = rows[at]!;
    rowsOfState[states[row]!]!.push(row);
    if (late[row] === 1) lateRowsOfState[stateOfCode[column.values[row]!]!]!.push(row);
  }
  const counted = (rowsOf: readonly (readonly number[])[]) =>
    RECORDED_STATES.map((state, at) => ({
      state,
      label: RECORDED_STATE_WORDS[state],
      ...countUnits(rowsOf[at] ?? [], persons),
    }));
  return {
    step,
    title: fieldTitle(cases, column.field),
    states: counted(rowsOfState),
    recordedAfterRevision: lateRowsOfState.reduce((sum, found) => sum + found.length, 0),
    writtenLate: counted(lateRowsOfState).filter(({ units }) => units > 0),
  };
}

function rowsByState(): number[][] {
  return RECORDED_STATES.map(() => []);
}
