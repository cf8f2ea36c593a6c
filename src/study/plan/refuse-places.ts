import { ArgumentError } from "../../base/errors.ts";
import { type PlanFault, planFaultsText } from "../../base/plan-fault.ts";

/**
 * Refuses a plan with all its faults in one error; a plan without any passes.
 *
 * @throws ArgumentError listing every place of the plan that is not as it should be.
 */
export function refusePlaces(caller: string, faults: readonly PlanFault[]): void {
  if (faults.length > 0) throw new ArgumentError(planFaultsText(faults, caller), faults);
}
