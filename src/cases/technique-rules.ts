import { type CodeColumn, isPresent } from "../base/column.ts";
import { codeMeanings } from "./code-meanings.ts";
import type { RecordedState } from "./recorded-state.ts";
import { type CaseRole, TECHNIQUE_STEPS, type TechniqueStep } from "./roles.ts";
import { earlier, later, type RowRule } from "./rule-tests.ts";

/** Steps that are about cement, and have no place where none was used. */
const STEPS_WITH_CEMENT: readonly TechniqueStep[] = [
  "vacuumMixing",
  "antibioticCement",
  "seatedInWorkingPhase",
  "cementOnBoneAndImplant",
  "pressurisation",
  "stillUntilSet",
  "excessCheck",
];

/** When steps were written down, and whether they can have been done at all. */
export const TECHNIQUE_RULES: readonly RowRule[] = [
  // What is written down after the revision may have been written because of it: it counts as not recorded.
  ...TECHNIQUE_STEPS.flatMap((step) => [
    later("step-recorded-after-revision", `technique:${step}:recordedOn`, "revisionDate", "warning"),
    earlier("step-recorded-before-operation", `technique:${step}:recordedOn`, "operationDate", "warning"),
  ]),
  contradiction("step-done-where-it-cannot-apply", "drilling", "done", "sclerosis", true),
  contradiction("step-not-applicable-where-it-applies", "drilling", "notApplicable", "sclerosis", false),
  ...STEPS_WITH_CEMENT.map((step) =>
    contradiction("step-done-where-it-cannot-apply", step, "done", "fixation", true),
  ),
];

/** Breaks where a step stands in a state although what it works on was there, or was not. */
function contradiction(
  code: string,
  step: TechniqueStep,
  state: RecordedState,
  about: CaseRole,
  absent: boolean,
): RowRule {
  return {
    code,
    severity: "warning",
    at: `technique:${step}`,
    reads: [about],
    test: (at, [other], cases) => {
      if (at.kind !== "code" || other?.kind !== "code") return undefined;
      const inState = codeMeanings(cases, at).map((meaning) => meaning.state === state);
      const absence = codeMeanings(cases, other).map((meaning) => meaning.absent);
      // Without a word for "none" nothing is known of where the step applies.
      if (!absence.includes(true)) return undefined;
      return bothHold(
        at,
        inState,
        other,
        absence.map((each) => each === absent),
      );
    },
  };
}

function bothHold(
  one: CodeColumn,
  holdsOne: readonly boolean[],
  other: CodeColumn,
  holdsOther: readonly boolean[],
): (row: number) => boolean {
  return (row) =>
    isPresent(one, row) &&
    isPresent(other, row) &&
    holdsOne[one.values[row]!] === true &&
    holdsOther[other.values[row]!] === true;
}
