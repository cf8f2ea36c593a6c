/** A value axis from 0 to a round limit. */
export interface ValueAxis {
  readonly limit: number;
  readonly ticks: readonly number[];
}

const STEPS_IN_TEN = [1, 2, 2.5, 5] as const;
const MOST_INTERVALS = 6;

/**
 * The smallest round axis that holds everything drawn, limits of intervals included.
 *
 * It is never shorter than `least`, so that noise near zero does not fill the frame, nor longer than `most`.
 */
export function valueAxis(largest: number, least: number, most: number): ValueAxis {
  const needed = Math.min(most, Math.max(largest, least));
  const step = roundStep(needed / MOST_INTERVALS);
  // The small allowance keeps 0.30000000000000004 from asking for one more interval.
  const intervals = Math.max(1, Math.ceil(needed / step - 1e-9));
  const ticks = Array.from({ length: intervals + 1 }, (_, at) => Number((at * step).toPrecision(12)));
  return { limit: ticks.at(-1) ?? needed, ticks };
}

function roundStep(least: number): number {
  let scale = 1;
  while (scale > least) scale /= 10;
  while (scale * 10 <= least) scale *= 10;
  const times = STEPS_IN_TEN.find((candidate) => candidate * scale >= least - 1e-12) ?? 10;
  return Number((times * scale).toPrecision(12));
}
