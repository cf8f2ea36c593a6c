import { type CodeColumn, missingReason } from "../base/column.ts";
import { planError } from "../base/plan-error.ts";
import type { PlanFault } from "../base/plan-fault.ts";
import type { Cases } from "../cases/cases.ts";
import { RECORDED_STATE_WORDS, RECORDED_STATES } from "../cases/recorded-state.ts";
import { type Exposure, type ExposureGroups, NOT_COMPARED } from "./exposure.ts";
import { isDeclared, namedColumn, unknownCode } from "./named-column.ts";
import {
  fieldTitle,
  NOT_RECORDED,
  type StepStates,
  stepCodes,
  stepOfField,
  stepStates,
} from "./step-states.ts";

const DONE = RECORDED_STATES.indexOf("done");
const NOT_DONE = RECORDED_STATES.indexOf("notDone");
const ANOTHER_CODE = "another code";
const NOT_RECORDED_WORDS = RECORDED_STATE_WORDS.notRecorded;

/**
 * Which knees are compared, and why the others are not.
 *
 * For a technique step "done" is the first group and "not done" the second; not applicable and not recorded are in
 * neither. For a coded field the groups are those the plan names, in its order. What was recorded after the revision
 * counts as not recorded, also where a technique field is compared by its own codes.
 *
 * @throws UsageError where the export lacks the step, the field or a group, naming what it holds.
 *
 * @example
 * const cases = await readCases("data/mgus2/datapackage.json");
 * exposureGroups(cases, { field: "sex", groups: ["F", "M"] }).labels; // "women", "men"
 */
export function exposureGroups(cases: Cases, exposure: Exposure): ExposureGroups {
  return "step" in exposure ? groupsOfStep(cases, exposure) : groupsOfField(cases, exposure);
}

/**
 * Refuses an exposure that does not fit an export, before any row is looked at.
 *
 * @throws UsageError as `exposureGroups`, naming every group that the field does not have.
 */
export function requireExposure(cases: Cases, exposure: Exposure): void {
  if ("step" in exposure) stepCodes(cases, exposure.step);
  else fieldOfGroups(cases, exposure);
}

function groupsOfStep(cases: Cases, exposure: Extract<Exposure, { step: unknown }>): ExposureGroups {
  const recorded = stepStates(cases, exposure.step);
  const title = fieldTitle(cases, recorded.column.field);
  const { done, notDone } = exposure.labels ?? stepLabels(title, recorded);
  requireDistinct([done, notDone]);
  const labels = [done, notDone];
  const others = RECORDED_STATES.map((state) => RECORDED_STATE_WORDS[state]);
  const standing = RECORDED_STATES.map((_, state) =>
    state === DONE ? 0 : state === NOT_DONE ? 1 : notCompared(state),
  );
  // In range: one state per row, one standing per state.
  const standingOf = (row: number) => standing[recorded.states[row]!]!;
  return collect(cases.rows, { title, labels, others, late: recorded.lateCount }, standingOf);
}

/** "Tourniquet: yes" and "Tourniquet: no": words of the dictionary under the title of the field. */
function stepLabels(title: string, { column, stateOfCode }: StepStates) {
  const words = (state: number) => column.labels.filter((_, code) => stateOfCode[code] === state);
  const label = (state: number, otherwise: string) => {
    const found = words(state);
    return `${title}: ${found.length === 0 ? otherwise : found.join(" or ")}`;
  };
  return {
    done: label(DONE, RECORDED_STATE_WORDS.done),
    notDone: label(NOT_DONE, RECORDED_STATE_WORDS.notDone),
  };
}

function groupsOfField(cases: Cases, exposure: Extract<Exposure, { field: unknown }>): ExposureGroups {
  const { column, step } = fieldOfGroups(cases, exposure);
  const recorded = step === undefined ? undefined : stepStates(cases, step);
  // In range: every group was found among the codes.
  const labels = exposure.groups.map((group) => column.labels[column.codes.indexOf(group)]!);
  requireDistinct(labels);
  const title = fieldTitle(cases, column.field);
  // Without a dictionary the labels are words out of the file, which are not shown unless the plan names them.
  const labelOf = isDeclared(cases, column) ? (label: string) => label : () => ANOTHER_CODE;
  const others = [...new Set([...column.labels.map(labelOf), ...column.missingReasons, NOT_RECORDED_WORDS])];
  const reason = (words: string) => {
    const at = others.indexOf(words);
    // The last reason is "not recorded": a value missing without a reason is that.
    return notCompared(at < 0 ? others.length - 1 : at);
  };
  const standing = column.labels.map((label, code) => {
    const place = exposure.groups.indexOf(column.codes[code] ?? "");
    return place < 0 ? reason(labelOf(label)) : place;
  });
  const standingOf = (row: number) => {
    if (recorded?.states[row] === NOT_RECORDED) return reason(NOT_RECORDED_WORDS);
    const missing = missingReason(column, row);
    // In range where present: the value is an index into codes and labels.
    return missing === undefined ? standing[column.values[row]!]! : reason(missing);
  };
  return collect(cases.rows, { title, labels, others, late: recorded?.lateCount ?? 0 }, standingOf);
}

/** The field whose codes are compared, and the step it records, if any. */
function fieldOfGroups(cases: Cases, { field, groups }: Extract<Exposure, { field: unknown }>) {
  const column = codedColumn(cases, field);
  const step = stepOfField(cases, column.field);
  const stateOfCode = step === undefined ? [] : stepCodes(cases, step).stateOfCode;
  checkGroups(cases, column, groups, stateOfCode);
  return { column, step };
}

function codedColumn(cases: Cases, field: string): CodeColumn {
  const place = "exposure.field";
  const column = namedColumn(cases, field, place);
  if (column.kind === "code") return column;
  const words = [...cases.columns.values()].filter(({ kind }) => kind === "code").map(({ field }) => field);
  const what = `field "${column.field}" has no closed list of codes, so it has no groups; name a coded field`;
  const fault = { code: "exposure-not-coded", place, what, written: field };
  throw planError([words.length === 0 ? fault : { ...fault, known: { heading: "Coded fields", words } }]);
}

function checkGroups(
  cases: Cases,
  column: CodeColumn,
  groups: readonly string[],
  stateOfCode: readonly number[],
): void {
  if (groups.length < 2 || groups.length >= NOT_COMPARED || new Set(groups).size < groups.length) {
    const what = `give at least two groups of field "${column.field}", each once; received ${groups.length}`;
    throw planError([{ code: "exposure-groups", place: "exposure.groups", what }]);
  }
  const faults = groups.flatMap((written, at): PlanFault[] => {
    const place = `exposure.groups[${at}]`;
    const code = column.codes.indexOf(written);
    if (code < 0) return [unknownCode(cases, column, { code: "unknown-group", place, written })];
    if (stateOfCode[code] !== NOT_RECORDED) return [];
    const what = `code "${written}" of field "${column.field}" means not recorded, which is not compared; leave it out`;
    return [{ code: "group-not-recorded", place, what, written }];
  });
  if (faults.length > 0) throw planError(faults);
}

function requireDistinct(labels: readonly string[]): void {
  const twice = labels.find((label, at) => labels.indexOf(label) !== at);
  if (twice === undefined) return;
  const what = `two groups are called "${twice}"; give each a label of its own`;
  throw planError([{ code: "group-labels-equal", place: "exposure", what }]);
}

/** Standing of a row that is in no group: below 0, so that one number holds the group or the reason. */
function notCompared(reason: number): number {
  return -1 - reason;
}

function collect(
  rows: number,
  words: {
    readonly title: string;
    readonly labels: readonly string[];
    readonly others: readonly string[];
    readonly late: number;
  },
  standingOf: (row: number) => number,
): ExposureGroups {
  const group = new Uint8Array(rows).fill(NOT_COMPARED);
  const rowsOfReason = words.others.map((): number[] => []);
  for (let row = 0; row < rows; row += 1) {
    const standing = standingOf(row);
    if (standing >= 0) group[row] = standing;
    else rowsOfReason[notCompared(standing)]?.push(row);
  }
  return {
    title: words.title,
    labels: words.labels,
    group,
    notCompared: words.others
      .map((label, at) => ({ label, rows: Int32Array.from(rowsOfReason[at] ?? []) }))
      .filter((reason) => reason.rows.length > 0),
    recordedAfterRevision: words.late,
  };
}
