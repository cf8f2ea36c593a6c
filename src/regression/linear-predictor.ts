import { addColumns, CHUNK } from "./add-columns.ts";

/** Σ coefficient · column for every row. */
export function linearPredictor(
  values: readonly Float64Array[],
  at: ArrayLike<number>,
  rows: number,
): Float64Array {
  const predictor = new Float64Array(rows);
  for (let from = 0; from < rows; from += CHUNK) {
    addColumns(predictor, values, at, from, Math.min(from + CHUNK, rows));
  }
  return predictor;
}

/** Σ a b. */
export function productSum(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < a.length; at += 1) sum += a[at]! * b[at]!;
  return sum;
}
