// Rows taken at a time, so that the columns stay near the processor while every pair of them is multiplied.
const CHUNK = 1024;

/**
 * Σ over rows of weight · x_j · x_k, for every pair of columns.
 *
 * Two columns are multiplied with two others in one pass: four sums for four readings.
 */
export function weightedCrossProducts(columns: readonly Float64Array[], weight: Float64Array): number[][] {
  const size = columns.length;
  const padded = size + (size % 2);
  const sums = new Float64Array(padded * padded);
  const nothing = size === padded ? undefined : new Float64Array(CHUNK);
  const [left, right] = [new Float64Array(CHUNK), new Float64Array(CHUNK)];
  for (let from = 0; from < weight.length; from += CHUNK) {
    const to = Math.min(from + CHUNK, weight.length);
    const part = (k: number) => columns[k]?.subarray(from, to) ?? nothing!.subarray(0, to - from);
    const weights = weight.subarray(from, to);
    for (let j = 0; j < padded; j += 2) {
      const [a, b] = [part(j), part(j + 1)];
      // Every index below is within the chunk.
      for (let i = 0; i < weights.length; i += 1) {
        left[i] = weights[i]! * a[i]!;
        right[i] = weights[i]! * b[i]!;
      }
      for (let k = 0; k <= j; k += 2) addBlock(sums, padded, j, k, left, right, part(k), part(k + 1));
    }
  }
  return Array.from({ length: size }, (_, j) =>
    Array.from({ length: size }, (__, k) => sums[Math.max(j, k) * padded + Math.min(j, k)]!),
  );
}

function addBlock(
  sums: Float64Array,
  width: number,
  j: number,
  k: number,
  left: Float64Array,
  right: Float64Array,
  c: Float64Array,
  d: Float64Array,
): void {
  let [leftC, leftD, rightC, rightD] = [0, 0, 0, 0];
  for (let i = 0; i < c.length; i += 1) {
    leftC += left[i]! * c[i]!;
    leftD += left[i]! * d[i]!;
    rightC += right[i]! * c[i]!;
    rightD += right[i]! * d[i]!;
  }
  sums[j * width + k]! += leftC;
  sums[j * width + k + 1]! += leftD;
  sums[(j + 1) * width + k]! += rightC;
  sums[(j + 1) * width + k + 1]! += rightD;
}
