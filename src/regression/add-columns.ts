// Rows taken at a time, so that they stay near the processor from column to column.
export const CHUNK = 1024;

/** Adds Σ slope · column to the sums, from one row up to another. Four columns at a time: each sum is read and written once for all. */
export function addColumns(
  sums: Float64Array,
  values: readonly Float64Array[],
  slopes: ArrayLike<number>,
  from: number,
  to: number,
): void {
  for (let j = 0; j < values.length; j += 4) addFour(sums, values, slopes, j, from, to);
}

function addFour(
  sums: Float64Array,
  values: readonly Float64Array[],
  slopes: ArrayLike<number>,
  j: number,
  from: number,
  to: number,
): void {
  // Past the last column the first of the four is taken again, times 0.
  const a = values[j]!;
  const b = values[j + 1] ?? a;
  const c = values[j + 2] ?? a;
  const d = values[j + 3] ?? a;
  const slopeOf = (column: number) => (column < values.length ? (slopes[column] ?? 0) : 0);
  const [ofA, ofB, ofC, ofD] = [slopeOf(j), slopeOf(j + 1), slopeOf(j + 2), slopeOf(j + 3)];
  if (ofA === 0 && ofB === 0 && ofC === 0 && ofD === 0) return;
  for (let i = from; i < to; i += 1) {
    sums[i] = sums[i]! + ofA * a[i]! + ofB * b[i]! + ofC * c[i]! + ofD * d[i]!;
  }
}
