import { ArgumentError } from "../base/errors.ts";
import { requireProbability } from "../numeric/argument-checks.ts";

/** "holm" keeps the chance of any false alarm; "false-discovery-rate" keeps the share of false ones among those found. */
export const MULTIPLICITY_METHODS = ["holm", "false-discovery-rate"] as const;
export type MultiplicityMethod = (typeof MULTIPLICITY_METHODS)[number];

export interface AdjustedPValues {
  readonly method: MultiplicityMethod;
  /** In the order given; each to be compared with the level as it stands. */
  readonly adjusted: readonly number[];
}

/**
 * p-values that say what they are worth when several questions were asked at once.
 *
 * Holm 1979 holds under any dependence. The false discovery rate is that of Benjamini and Hochberg 1995, for tests that
 * are independent or depend positively. The order of the input does not matter, equal values stay equal.
 *
 * @example
 * adjustForMultiplicity([0.01, 0.04, 0.03]).adjusted; // [0.03, 0.06, 0.06]
 */
export function adjustForMultiplicity(
  pValues: readonly number[],
  options: { readonly method?: MultiplicityMethod } = {},
): AdjustedPValues {
  const { method = "holm" } = options;
  if (!MULTIPLICITY_METHODS.includes(method)) {
    throw new ArgumentError(
      `adjustForMultiplicity: method must be one of ${MULTIPLICITY_METHODS.join(", ")}`,
    );
  }
  for (const p of pValues) requireProbability("adjustForMultiplicity", "each p", p);
  const ascending = pValues.map((p, at) => ({ p, at })).sort((a, b) => a.p - b.p);
  const adjusted = new Array<number>(pValues.length).fill(1);
  const fill = method === "holm" ? fillHolm : fillFalseDiscovery;
  fill(ascending, adjusted);
  return { method, adjusted };
}

interface Ranked {
  readonly p: number;
  readonly at: number;
}

/** Smallest first: each is multiplied by how many are left, and none may fall below an earlier one. */
function fillHolm(ascending: readonly Ranked[], adjusted: number[]): void {
  let highest = 0;
  ascending.forEach(({ p, at }, rank) => {
    highest = Math.max(highest, Math.min(1, (ascending.length - rank) * p));
    adjusted[at] = highest;
  });
}

/** Largest first: each is multiplied by n over its rank, and none may rise above a later one. */
function fillFalseDiscovery(ascending: readonly Ranked[], adjusted: number[]): void {
  let lowest = 1;
  ascending.toReversed().forEach(({ p, at }, fromTop) => {
    const rank = ascending.length - fromTop;
    lowest = Math.min(lowest, (ascending.length / rank) * p);
    adjusted[at] = lowest;
  });
}
