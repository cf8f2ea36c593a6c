import type { PlanFault } from "./plan-fault.ts";

/**
 * A wrong argument or setting, found before any work was done.
 *
 * The message says where, what is wrong, what is accepted and what to do, in that order.
 */
export class ArgumentError extends Error {
  override readonly name = "ArgumentError";
  /** One for each place of a plan that is at fault; empty where it is not about places of a plan. */
  readonly faults: readonly PlanFault[];

  constructor(message: string, faults: readonly PlanFault[] = []) {
    super(message);
    this.faults = faults;
  }
}

/** The data, the plan or a file cannot be used as it is; the message is written for the person at the keyboard. */
export class UsageError extends Error {
  override readonly name = "UsageError";
  readonly code: string;
  /** One for each place of a plan that is at fault; empty where it is not about places of a plan. */
  readonly faults: readonly PlanFault[];

  constructor(code: string, message: string, faults: readonly PlanFault[] = []) {
    super(message);
    this.code = code;
    this.faults = faults;
  }
}
