import type { CodeColumn } from "../base/column.ts";
import { nearestWord } from "../base/nearest-word.ts";
import { planError } from "../base/plan-error.ts";
import { unknownWord } from "../base/plan-fault.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { caseFields } from "../cases/descriptor-rules.ts";
import { RECORDED_STATES } from "../cases/recorded-state.ts";
import { TECHNIQUE_STEPS, type TechniqueStep } from "../cases/roles.ts";

export const NOT_RECORDED = RECORDED_STATES.indexOf("notRecorded");

/** Where a step stands in most plans. */
const STEP_PLACE = "exposure.step";

/** How a step is recorded in every row of the export. */
export interface StepStates {
  readonly column: CodeColumn;
  /** Per row: index into `RECORDED_STATES`. */
  readonly states: Uint8Array;
  /** Per code of the column: index into `RECORDED_STATES`. */
  readonly stateOfCode: readonly number[];
  /** Rows whose record is dated after the revision; their state is "not recorded". */
  readonly late: Uint8Array;
  readonly lateCount: number;
}

/**
 * The recorded state of a technique step in each row.
 *
 * A blank is "not recorded", never "not done". A record dated after the revision may have been coloured by it, so it
 * counts as not recorded too; one dated on the day of the revision stands.
 *
 * @param place where in the plan the step stands.
 * @throws UsageError `unknown-step`, `step-not-in-export` or `step-without-states`.
 */
export function stepStates(cases: Cases, step: TechniqueStep, place = STEP_PLACE): StepStates {
  const { column, stateOfCode } = stepCodes(cases, step, place);
  const late = recordedLate(cases, step);
  const states = new Uint8Array(cases.rows);
  let lateCount = 0;
  for (let row = 0; row < cases.rows; row += 1) {
    const code = column.values[row] ?? 0;
    const written = column.missing[row] === 0 ? (stateOfCode[code] ?? NOT_RECORDED) : NOT_RECORDED;
    const isLate = late[row] === 1 && written !== NOT_RECORDED;
    if (!isLate) late[row] = 0;
    else lateCount += 1;
    states[row] = isLate ? NOT_RECORDED : written;
  }
  return { column, states, stateOfCode, late, lateCount };
}

/**
 * The field of a step and the state that each of its codes means, without a look at the rows.
 *
 * @throws UsageError as `stepStates`.
 */
export function stepCodes(
  cases: Cases,
  step: TechniqueStep,
  place = STEP_PLACE,
): Pick<StepStates, "column" | "stateOfCode"> {
  const column = stepColumn(cases, step, place);
  return { column, stateOfCode: statesOfCodes(cases, column, place) };
}

/** The step whose record a field holds, if it is a technique field. */
export function stepOfField(cases: Cases, field: string): TechniqueStep | undefined {
  return TECHNIQUE_STEPS.find((step) => cases.fieldOfRole.get(`technique:${step}`) === field);
}

/** Title of a field for readers: that of the descriptor, else its name. */
export function fieldTitle(cases: Cases, field: string): string {
  return caseFields(cases.descriptor).find(({ name }) => name === field)?.title ?? field;
}

function stepColumn(cases: Cases, step: TechniqueStep, place: string): CodeColumn {
  const column = columnOfRole(cases, `technique:${step}`);
  if (column?.kind === "code") return column;
  const recorded = TECHNIQUE_STEPS.filter((each) => cases.fieldOfRole.has(`technique:${each}`));
  const known = { heading: "Steps recorded in the export", words: recorded };
  // A plan written in JavaScript can name a step that is none.
  if (!TECHNIQUE_STEPS.includes(step)) {
    const nearest = nearestWord(step, recorded) ?? nearestWord(step, TECHNIQUE_STEPS);
    const is = "is no technique step";
    throw planError([unknownWord({ code: "unknown-step", place, written: step, is, known, nearest })]);
  }
  const what =
    `no coded field of the export has the role "technique:${step}"; give the field its role in the dictionary, ` +
    "or compare another step";
  const fault = { code: "step-not-in-export", place, what, written: step };
  throw planError([recorded.length === 0 ? fault : { ...fault, known }]);
}

function statesOfCodes(cases: Cases, column: CodeColumn, place: string): number[] {
  const field = caseFields(cases.descriptor).find(({ name }) => name === column.field);
  return column.codes.map((code) => {
    const state = field?.categories?.find(({ value }) => value === code)?.state;
    if (state !== undefined) return RECORDED_STATES.indexOf(state);
    const what =
      `the dictionary does not say which state each code of field "${column.field}" means; ` +
      `give every category a "state": ${RECORDED_STATES.join(", ")}`;
    throw planError([{ code: "step-without-states", place, what }]);
  });
}

function recordedLate(cases: Cases, step: TechniqueStep): Uint8Array {
  const late = new Uint8Array(cases.rows);
  const recorded = columnOfRole(cases, `technique:${step}:recordedOn`);
  const revision = columnOfRole(cases, "revisionDate");
  if (recorded?.kind !== "day" || revision?.kind !== "day") return late;
  for (let row = 0; row < cases.rows; row += 1) {
    const bothKnown = recorded.missing[row] === 0 && revision.missing[row] === 0;
    // In range, both columns being as long as the export.
    if (bothKnown && recorded.values[row]! > revision.values[row]!) late[row] = 1;
  }
  return late;
}
