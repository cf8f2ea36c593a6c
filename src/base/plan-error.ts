import { UsageError } from "./errors.ts";
import { type PlanFault, planFaultsText } from "./plan-fault.ts";

/** That a plan names what the export does not have, or what does not fit there: every place in one error, by the code of the first. */
export function planError(faults: readonly PlanFault[]): UsageError {
  return new UsageError(faults[0]?.code ?? "plan-unusable", planFaultsText(faults, "plan"), faults);
}

type Answers<Steps extends readonly (() => unknown)[]> = {
  readonly [At in keyof Steps]: ReturnType<Steps[At]>;
};

/**
 * What each step answers, or one error with the faults that all of them found in a plan. Any other error comes out at once.
 *
 * @throws UsageError with the faults of every step, each place once.
 */
export function together<const Steps extends readonly (() => unknown)[]>(steps: Steps): Answers<Steps> {
  const faults = new Map<string, PlanFault>();
  const answers = steps.map((step) => {
    try {
      return step();
    } catch (error) {
      if (!(error instanceof UsageError) || error.faults.length === 0) throw error;
      for (const fault of error.faults) faults.set(`${fault.place}\n${fault.what}`, fault);
      return undefined;
    }
  });
  if (faults.size > 0) throw planError([...faults.values()]);
  // Nothing was caught, so each answer is that of its step.
  return answers as Answers<Steps>;
}
