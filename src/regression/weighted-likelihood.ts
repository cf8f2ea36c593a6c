import { notComputed } from "../base/answer.ts";

/** Multiplying all sampling weights by one number would multiply the chi-square too. */
export const NO_WEIGHTED_LIKELIHOOD = notComputed(
  "sampling-weights",
  "with sampling weights there is no likelihood to compare",
);

export const LOST_WEIGHTS = notComputed(
  "weights-too-far-apart",
  "the weights differ by so many powers of ten that the small ones are lost beside the large",
);
