import type { Column } from "../../base/column.ts";
import type { Cases } from "../../cases/cases.ts";
import { RECORDED_STATE_WORDS, RECORDED_STATES } from "../../cases/recorded-state.ts";
import { shownLabels } from "../../technique/shown-labels.ts";
import { stepOfField, stepStates } from "../../technique/step-states.ts";

const NOT_IN_A_SHARE = [RECORDED_STATE_WORDS.notApplicable, RECORDED_STATE_WORDS.notRecorded];

/**
 * A technique step as it counts: not applicable and not recorded stand apart from done and not done, and what was written
 * down after the revision is not recorded. Any other field as it is, coded ones in the words that readers are shown.
 */
export function recordedColumn(cases: Cases, column: Column): Column {
  const step = stepOfField(cases, column.field);
  if (column.kind !== "code") return column;
  if (step === undefined) return { ...column, labels: shownLabels(cases, column) };
  const { states, stateOfCode } = stepStates(cases, step);
  const reasonOf = RECORDED_STATES.map((state) => NOT_IN_A_SHARE.indexOf(RECORDED_STATE_WORDS[state]) + 1);
  const kept = column.codes.flatMap((_code, at) => (reasonOf[stateOfCode[at] ?? -1] === 0 ? [at] : []));
  const placeOfCode = column.codes.map((_code, at) => Math.max(0, kept.indexOf(at)));
  return {
    ...column,
    values: column.values.map((code) => placeOfCode[code] ?? 0),
    codes: kept.map((at) => column.codes[at] ?? ""),
    labels: kept.map((at) => column.labels[at] ?? ""),
    missing: states.map((state) => reasonOf[state] ?? 0),
    missingReasons: NOT_IN_A_SHARE,
  };
}
