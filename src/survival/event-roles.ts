import { ArgumentError } from "../base/errors.ts";
import type { RiskSteps } from "./risk-steps.ts";

/** What each cause is to an estimate: the event asked about, a competing event, or a censoring. */
export interface EventRoles {
  /** By cause, in the order of the causes. */
  readonly wanted: readonly boolean[];
  readonly competing: readonly boolean[];
}

/** Crude: one cause is asked about, every other one competes with it. */
export function crudeRoles(causes: readonly string[], wanted: number): EventRoles {
  return {
    wanted: causes.map((_, cause) => cause === wanted),
    competing: causes.map((_, cause) => cause !== wanted),
  };
}

/** Net: the events asked about are put together, every other cause ends follow-up like a censoring. */
export function netRoles(causes: readonly string[], wanted: readonly number[]): EventRoles {
  return {
    wanted: causes.map((_, cause) => wanted.includes(cause)),
    competing: causes.map(() => false),
  };
}

/** Index of a named cause; a name that is not among the causes is refused. */
export function causeIndex(where: string, causes: readonly string[], name: string): number {
  const index = causes.indexOf(name);
  if (index >= 0) return index;
  throw new ArgumentError(`${where}: no cause is named "${name}"; the causes are ${causes.join(", ")}`);
}

/**
 * Indexes of the causes that together count as the event.
 *
 * One rule for every estimator: left out, all causes count. An empty list asks nothing, and a cause named twice would be
 * counted twice where counts are added, so both are refused.
 */
export function eventIndexes(where: string, causes: readonly string[], event: readonly string[]): number[] {
  if (event.length === 0)
    throw new ArgumentError(`${where}: event names no cause; the causes are ${causes.join(", ")}`);
  if (new Set(event).size < event.length) throw new ArgumentError(`${where}: event names a cause twice`);
  return event.map((name) => causeIndex(where, causes, name));
}

/** Index of a group given by its number or its label. */
export function groupIndex(where: string, groups: readonly string[], group: number | string): number {
  const index = typeof group === "number" ? group : groups.indexOf(group);
  if (groups[index] !== undefined) return index;
  throw new ArgumentError(
    `${where}: there is no group ${JSON.stringify(group)}; the groups are ${groups.join(", ")}`,
  );
}

/** Events at each step that play a role, added over causes. */
export function eventsInRole(
  steps: Pick<RiskSteps, "events" | "time">,
  role: readonly boolean[],
): Float64Array {
  const sum = new Float64Array(steps.time.length);
  steps.events.forEach((events, cause) => {
    if (role[cause] === true) for (let step = 0; step < sum.length; step++) sum[step]! += events[step] ?? 0;
  });
  return sum;
}
