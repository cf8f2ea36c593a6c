/** Σ coefficient · column for every row. */
export function linearPredictor(
  values: readonly Float64Array[],
  at: ArrayLike<number>,
  rows: number,
): Float64Array {
  const predictor = new Float64Array(rows);
  values.forEach((column, place) => {
    const slope = at[place] ?? 0;
    if (slope !== 0) for (let row = 0; row < rows; row += 1) predictor[row]! += slope * column[row]!;
  });
  return predictor;
}

/** Σ a b. */
export function productSum(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < a.length; at += 1) sum += a[at]! * b[at]!;
  return sum;
}
