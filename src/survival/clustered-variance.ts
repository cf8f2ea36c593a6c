import type { EventRoles } from "./event-roles.ts";
import { leftOver } from "./incidence-path.ts";
import type { PathSteps } from "./influence.ts";
import type { Passing, RowOrder } from "./row-order.ts";
import { type UnitMotion, unitMotion } from "./unit-motion.ts";

/**
 * Variance of a group's incidence at every step, over independent units: the sum of squared unit influence.
 *
 * A unit is brought up to date only when one of its rows comes or goes (see `unitMotion`), so the cost is
 * rows + steps, whatever the number of units.
 */
export function clusteredVariance(roles: EventRoles, steps: PathSteps, order: RowOrder): Float64Array {
  const variance = new Float64Array(steps.time.length);
  const { leaving, entering } = order;
  const motion = unitMotion(order.units);
  // By event code: 1 for the cause asked about, 2 for one that competes with it.
  const roleOf = Uint8Array.from([0, ...roles.wanted.map((isWanted, at) => roleCode(roles, isWanted, at))]);
  if (entering === undefined) come(motion, leaving, 0, leaving.unit.length);
  else comeAt(motion, entering, 0);
  for (let step = 0; step < variance.length; step++) {
    const sizes = stepSizes(steps, step);
    motion.moveAll(sizes);
    const to = leaving.from[step + 2] ?? 0;
    for (let at = leaving.from[step + 1] ?? 0; at < to; at++) {
      // Places are in range: the arrays hold one element a row.
      const factor = leaving.factor[at]!;
      const role = roleOf[leaving.event[at]!]!;
      motion.change(
        leaving.unit[at]!,
        role === 1 ? factor * sizes.ownEvent : 0,
        role === 0 ? 0 : factor * sizes.anyEvent,
        -factor,
      );
    }
    if (entering !== undefined) comeAt(motion, entering, step + 1);
    variance[step] = aboveRounding(motion.sumOfSquares(), steps.path.incidence[step] ?? 0, order.rows);
  }
  return variance;
}

// Clusters that leave no variation between them leave rounding errors, not 0: a small share of the binomial variance, or,
// where everyone has had the event, of the digits of the incidence.
const [ROUNDING, LAST_DIGITS] = [1e-6, 1e-14];

function aboveRounding(variance: number, incidence: number, rows: number): number {
  return variance * rows > (ROUNDING * (1 - incidence) + LAST_DIGITS) * incidence ? variance : 0;
}

function roleCode({ competing }: EventRoles, isWanted: boolean, cause: number): number {
  return isWanted ? 1 : competing[cause] === true ? 2 : 0;
}

function comeAt(motion: UnitMotion, entering: Passing, step: number): void {
  come(motion, entering, entering.from[step] ?? 0, entering.from[step + 1] ?? 0);
}

function come(motion: UnitMotion, { unit, factor }: Passing, from: number, to: number): void {
  for (let at = from; at < to; at++) motion.change(unit[at]!, 0, 0, factor[at]!);
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
