import { requireProbability } from "./argument-checks.ts";

/** Ways of adjusting p-values for their number: against any false finding, or for the share of false findings. */
export const P_ADJUSTMENTS = ["holm", "false-discovery-rate"] as const;
export type PAdjustment = (typeof P_ADJUSTMENTS)[number];

/**
 * p-values adjusted for how many there are, in the order given.
 *
 * "holm" keeps the chance of any false finding (Holm 1979); "false-discovery-rate" keeps the expected share of false ones
 * among the findings (Benjamini and Hochberg 1995). Both give an adjusted p of at most 1 that never falls below p.
 *
 * @example
 * adjustedP([0.01, 0.04, 0.03], "holm"); // 0.03, 0.06, 0.06
 */
export function adjustedP(values: readonly number[], adjustment: PAdjustment): number[] {
  for (const p of values) requireProbability("adjustedP", "each p", p);
  const order = values.map((_, at) => at).sort((a, b) => (values[a] ?? 0) - (values[b] ?? 0) || a - b);
  const adjusted = values.map(() => 1);
  const count = values.length;
  if (adjustment === "holm") {
    let largest = 0;
    order.forEach((at, rank) => {
      largest = Math.max(largest, (count - rank) * (values[at] ?? 1));
      adjusted[at] = Math.min(1, largest);
    });
    return adjusted;
  }
  let smallest = 1;
  order.reverse().forEach((at, step) => {
    smallest = Math.min(smallest, (count / (count - step)) * (values[at] ?? 1));
    adjusted[at] = smallest;
  });
  return adjusted;
}
