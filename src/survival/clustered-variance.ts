import type { EventRoles } from "./event-roles.ts";
import { leftOver } from "./incidence-path.ts";
import type { PathSteps } from "./influence.ts";
import type { Observations } from "./observations.ts";
import { stepsUpTo } from "./risk-steps.ts";
import { unitMotion } from "./unit-motion.ts";
import type { Units } from "./units.ts";

/**
 * Variance of a group's incidence at every step, over independent units: the sum of squared unit influence.
 *
 * A unit is brought up to date only when one of its rows comes or goes (see `unitMotion`), so the cost is
 * rows + steps, whatever the number of units.
 */
export function clusteredVariance(
  observations: Observations,
  group: number,
  roles: EventRoles,
  steps: PathSteps,
  units: Units,
): Float64Array {
  const variance = new Float64Array(steps.time.length);
  const { event, exit, entry } = observations;
  const leaving = rowsByStep(observations, group, steps.time, exit);
  const entering = entry === undefined ? undefined : rowsByStep(observations, group, steps.time, entry);
  const motion = unitMotion(units.count);
  const come = (row: number) => motion.change(units.codes?.[row] ?? row, 0, 0, units.factor(row));

  (entering?.at(0) ?? leaving.all).forEach(come);
  for (const row of leaving.at(0)) motion.change(units.codes?.[row] ?? row, 0, 0, -units.factor(row));
  for (let step = 0; step < variance.length; step++) {
    const sizes = stepSizes(steps, step);
    motion.moveAll(sizes);
    for (const row of leaving.at(step + 1)) {
      const factor = units.factor(row);
      // Rows cut off between two steps leave after the first of them, without an event.
      const cause = exit[row] === steps.time[step] ? (event[row] ?? 0) - 1 : -1;
      const own = roles.wanted[cause] === true ? factor * sizes.ownEvent : 0;
      const any =
        roles.wanted[cause] === true || roles.competing[cause] === true ? factor * sizes.anyEvent : 0;
      motion.change(units.codes?.[row] ?? row, own, any, -factor);
    }
    entering?.at(step + 1).forEach(come);
    variance[step] = Math.max(0, motion.sumOfSquares());
  }
  return variance;
}

function stepSizes({ atRisk, wanted, competing, path }: PathSteps, step: number) {
  const n = atRisk[step] ?? 0;
  const k = wanted[step] ?? 0;
  const d = k + (competing[step] ?? 0);
  if (!(n > 0) || d === 0) return { growth: 0, pull: 0, hazard: 0, ownEvent: 0, anyEvent: 0 };
  const ownEvent = (step === 0 ? 1 : (path.eventFree[step - 1] ?? 0)) / n;
  const left = leftOver(n, d);
  const anyEvent = left > 0 ? 1 / left : 0;
  return { growth: ownEvent * k, pull: (ownEvent * k) / n, hazard: (anyEvent * d) / n, ownEvent, anyEvent };
}

/** Rows of a group in the order of the steps passed at a tick, counted into place. */
function rowsByStep(observations: Observations, group: number, time: Int32Array, ticks: Int32Array) {
  const { codes } = observations.group;
  const passed = new Int32Array(observations.rows).fill(-1);
  const from = new Int32Array(time.length + 2);
  for (let row = 0; row < observations.rows; row++) {
    if (codes[row] !== group) continue;
    const steps = stepsUpTo(time, ticks[row] ?? 0);
    passed[row] = steps;
    from[steps + 1]! += 1;
  }
  for (let step = 1; step < from.length; step++) from[step]! += from[step - 1] ?? 0;
  const all = new Int32Array(from[time.length + 1] ?? 0);
  const next = from.slice();
  passed.forEach((steps, row) => {
    if (steps >= 0) all[next[steps]!++] = row;
  });
  return { all, at: (step: number) => all.subarray(from[step], from[step + 1]) };
}
