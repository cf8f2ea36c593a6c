import { UsageError } from "../base/errors.ts";
import { planFaultsText } from "../base/plan-fault.ts";

/**
 * An error about a plan that a command made of its options, with each place called as it was typed: "strata[0]" → "--stratum".
 * Anything else comes back as it is.
 */
export function optionFaults(
  command: string,
  options: Readonly<Record<string, string>>,
  error: unknown,
): unknown {
  if (!(error instanceof UsageError) || error.faults.length === 0) return error;
  const faults = error.faults.map((fault) => {
    const [key = ""] = fault.place.split(/[.[]/);
    return { ...fault, place: options[key] ?? fault.place };
  });
  return new UsageError(error.code, planFaultsText(faults, command), faults);
}
