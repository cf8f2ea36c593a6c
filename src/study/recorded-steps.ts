import { UsageError } from "../base/errors.ts";
import type { Cases } from "../cases/cases.ts";
import { TECHNIQUE_STEPS, type TechniqueStep } from "../cases/roles.ts";
import { stepCatalogue } from "../technique/step-catalogue.ts";
import { stepStates } from "../technique/step-states.ts";

/** A step as the export records it. */
export interface RecordedStep {
  readonly step: TechniqueStep;
  readonly label: string;
  /** Per row of the cases: index into `RECORDED_STATES`. */
  readonly states: Uint8Array;
}

/**
 * The steps named, or every step that the export records.
 *
 * @throws UsageError `no-steps` where it records none, and what `stepStates` says of a step that it does not record.
 */
export function recordedSteps(cases: Cases, wanted: readonly TechniqueStep[] | undefined): RecordedStep[] {
  const found = wanted ?? TECHNIQUE_STEPS.filter((step) => cases.fieldOfRole.has(`technique:${step}`));
  if (found.length === 0) {
    throw new UsageError(
      "no-steps",
      'The export records no technique step, so there is nothing to look at; give the fields roles such as "technique:tourniquet" in the descriptor',
    );
  }
  return found.map((step) => ({
    step,
    label: stepCatalogue[step].label,
    states: stepStates(cases, step).states,
  }));
}
