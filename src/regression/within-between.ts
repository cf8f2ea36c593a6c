import { ArgumentError } from "../base/errors.ts";
import type { Clusters } from "../survival/observations.ts";
import type { ModelColumn } from "./model-matrix.ts";

/** One column as two that add up to it: what clusters have of it, and how a row differs from its cluster. */
export interface WithinBetween {
  readonly within: ModelColumn;
  readonly between: ModelColumn;
}

/**
 * Splits a column into the mean of its cluster and the row's deviation from it, so that a model has one coefficient for rows of
 * one cluster against each other and one for clusters against each other.
 *
 * Where rows differ for what their clusters are, and not for what was done to them, the two come apart. For a step done or not,
 * the mean is the cluster's share of knees with it. Codes are one a value; weights, one a value, weigh the mean.
 *
 * Source: Neuhaus and Kalbfleisch 1998; Begg and Parides 2003.
 *
 * @throws ArgumentError where codes or weights are not as many as values.
 *
 * @example
 * const step = { name: "step", values: Float64Array.of(1, 0, 1, 1) };
 * withinBetween(step, { codes: [0, 0, 1, 1], word: "surgeon" }).within.values; // [0.5, −0.5, 0, 0]
 */
export function withinBetween(
  { name, values }: ModelColumn,
  { codes, word }: Clusters,
  weights?: ArrayLike<number>,
): WithinBetween {
  for (const [what, list] of [
    ["cluster codes", codes],
    ["weights", weights ?? values],
  ] as const) {
    if (list.length === values.length) continue;
    throw new ArgumentError(
      `withinBetween: column "${name}" has ${values.length} values and there are ${list.length} ${what}; every value needs one`,
    );
  }
  const means = new Map<number, { mean: number; weight: number }>();
  values.forEach((value, at) => {
    const own = means.get(codes[at]!) ?? { mean: 0, weight: 0 };
    const weight = weights?.[at] ?? 1;
    own.weight += weight;
    // Step by step, so that equal values have exactly their own mean.
    if (weight > 0) own.mean += ((value - own.mean) * weight) / own.weight;
    means.set(codes[at]!, own);
  });
  const between = values.map((_, at) => means.get(codes[at]!)!.mean);
  return {
    within: { name: `${name}, within a ${word}`, values: values.map((value, at) => value - between[at]!) },
    between: { name: `${name}, between ${word}s`, values: between },
  };
}
