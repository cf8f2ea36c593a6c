import { leftOver } from "./incidence-path.ts";
import { stepsUpTo } from "./risk-steps.ts";

export interface RestrictedArea {
  /** Area under the curve up to the tick, in ticks, and what it lacks of the whole. */
  readonly kept: number;
  readonly lost: number;
  readonly variance: number;
  /** Area from each step up to the tick. */
  readonly toCome: Float64Array;
  /** After each step up to the tick. */
  readonly survival: Float64Array;
}

/**
 * Area under a product-limit curve from tick 0 to a tick, with its variance
 *
 *   Σ over event ticks u of (area from u to the end)² d / (n (n − d))
 *
 * Time lost is added up by itself, as the area above the curve: with one event in a thousand the difference of the two
 * areas would have lost its digits.
 */
export function areaUnder(
  time: ArrayLike<number>,
  atRisk: ArrayLike<number>,
  events: ArrayLike<number>,
  toTick: number,
): RestrictedArea {
  const steps = stepsUpTo(time, toTick);
  const survival = new Float64Array(steps + 1);
  const incidence = new Float64Array(steps + 1);
  const spread = new Float64Array(steps);
  survival[0] = 1;
  for (let step = 0; step < steps; step++) {
    const [n, d] = [atRisk[step] ?? 0, events[step] ?? 0];
    const before = survival[step] ?? 1;
    const left = leftOver(n, d);
    survival[step + 1] = d > 0 ? (before * left) / n : before;
    incidence[step + 1] = (incidence[step] ?? 0) + (d > 0 ? (before * d) / n : 0);
    spread[step] = d > 0 && left > 0 ? d / (n * left) : 0;
  }
  const toCome = new Float64Array(steps);
  let [kept, lost, variance] = [0, 0, 0];
  let end = toTick;
  for (let step = steps - 1; step >= -1; step--) {
    const width = end - (step < 0 ? 0 : (time[step] ?? 0));
    kept += width * (survival[step + 1] ?? 0);
    lost += width * (incidence[step + 1] ?? 0);
    if (step >= 0) {
      toCome[step] = kept;
      variance += kept * kept * (spread[step] ?? 0);
    }
    end -= width;
  }
  return { kept, lost, variance, toCome, survival: survival.subarray(1) };
}
