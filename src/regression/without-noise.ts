import type { SymmetricMatrix } from "../numeric/symmetric-matrix.ts";

/** Shares of a score add up to nothing over all rows, so units that share nothing still leave rounding errors. */
const LEAST_SHARE = 1e-20;

/** A variance between units with what is only rounding, against the model's own variance, set to 0. */
export function withoutNoise(covariance: SymmetricMatrix, model: SymmetricMatrix): number[][] {
  const isNoise = covariance.map((line, j) => !((line[j] ?? 0) > LEAST_SHARE * (model[j]?.[j] ?? 0)));
  return covariance.map((line, j) => line.map((value, k) => (isNoise[j] || isNoise[k] ? 0 : value)));
}
