import { preciseSum } from "../numeric/precise-sum.ts";
import type { WeightKind } from "../survival/observations.ts";

/**
 * What a likelihood's rises are measured in: about what one event adds to it, which sampling weights make as small or as large
 * as they are. A fit must not stop earlier, or go on for ever, because all weights were multiplied by one number.
 */
export function likelihoodUnit(
  weight: { readonly kind: WeightKind; readonly values: Float64Array } | undefined,
): number {
  return weight?.kind === "sampling" ? preciseSum(weight.values) / weight.values.length : 1;
}
