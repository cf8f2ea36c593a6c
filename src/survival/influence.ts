import type { EventRoles } from "./event-roles.ts";
import { type IncidencePath, leftOver } from "./incidence-path.ts";
import type { Observations } from "./observations.ts";
import { stepsUpTo } from "./risk-steps.ts";
import type { Units } from "./units.ts";

/** One group's numbers at each step, as `influenceAt` takes them. */
export interface PathSteps {
  readonly time: Int32Array;
  readonly atRisk: ArrayLike<number>;
  readonly wanted: ArrayLike<number>;
  readonly competing: ArrayLike<number>;
  readonly path: IncidencePath;
}

/** How far a row moves the incidence at one tick, by the steps it was at risk for and how it left. */
export interface Influence {
  /** Steps at or before the tick. */
  readonly steps: number;
  /** `staying[j]`: being at risk through the first j steps. */
  readonly staying: Float64Array;
  /** Having the event asked about, or a competing one, at step j. */
  readonly wanted: Float64Array;
  readonly competing: Float64Array;
}

/**
 * Derivative of the Aalen–Johansen estimate at a tick with respect to one row's weight (infinitesimal jackknife).
 *
 * With F, S, n, d, k as in `incidencePath`, dN and dK the row's own event and event of the cause, and Y = 1 while it is
 * at risk:
 *
 *   I(t) = Σ over u ≤ t of S (dK − Y k / n) / n − (F(t) − F(u)) (dN − Y d / n) / (n − d)
 */
export function influenceAt({ time, atRisk, wanted, competing, path }: PathSteps, tick: number): Influence {
  const steps = stepsUpTo(time, tick);
  const influence = {
    steps,
    staying: new Float64Array(steps + 1),
    wanted: new Float64Array(steps),
    competing: new Float64Array(steps),
  };
  const reached = path.incidence[steps - 1] ?? 0;
  for (let step = 0; step < steps; step++) {
    const n = atRisk[step] ?? 0;
    const k = wanted[step] ?? 0;
    const d = k + (competing[step] ?? 0);
    const before = step === 0 ? 1 : (path.eventFree[step - 1] ?? 0);
    const left = leftOver(n, d);
    const own = n > 0 ? before / n : 0;
    const later = left > 0 ? (reached - (path.incidence[step] ?? 0)) / left : 0;
    influence.wanted[step] = own - later;
    influence.competing[step] = -later;
    const pull = n > 0 ? (later * d - own * k) / n : 0;
    influence.staying[step + 1] = (influence.staying[step] ?? 0) + pull;
  }
  return influence;
}

/** Adds the influence of each row of a group to its unit. One pass over the rows. */
export function addInfluence(
  sums: Float64Array,
  observations: Observations,
  group: number,
  roles: EventRoles,
  { time }: Pick<PathSteps, "time">,
  influence: Influence,
  units: Units,
): void {
  const { exit, event, entry, rows } = observations;
  const { steps, staying } = influence;
  for (let row = 0; row < rows; row++) {
    if (observations.group.codes[row] !== group) continue;
    const passed = stepsUpTo(time, exit[row] ?? 0);
    const entered = entry === undefined ? 0 : Math.min(stepsUpTo(time, entry[row] ?? 0), steps);
    let value = (staying[Math.min(passed, steps)] ?? 0) - (staying[entered] ?? 0);
    if (passed <= steps) {
      const cause = (event[row] ?? 0) - 1;
      if (roles.wanted[cause] === true) value += influence.wanted[passed - 1] ?? 0;
      else if (roles.competing[cause] === true) value += influence.competing[passed - 1] ?? 0;
    }
    sums[units.codes?.[row] ?? row]! += units.factor(row) * value;
  }
}
