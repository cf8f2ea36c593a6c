// Rows taken at a time, so that the columns stay near the processor while every pair of them is multiplied.
const CHUNK = 1024;

/**
 * Σ over rows of weight · x_j · x_k, for every pair of columns.
 *
 * Two columns are multiplied with two others in one pass: four sums for four readings.
 */
export function weightedCrossProducts(columns: readonly Float64Array[], weight: Float64Array): number[][] {
  const size = columns.length;
  const width = size + (size % 2);
  const sums = new Float64Array(width * width);
  // A last column without a partner is its own; what that adds lies outside the answer.
  const column = (k: number) => columns[Math.min(k, size - 1)]!;
  for (let from = 0; from < weight.length; from += CHUNK) {
    const to = Math.min(from + CHUNK, weight.length);
    for (let j = 0; j < size; j += 2) {
      const [a, b] = [column(j), column(j + 1)];
      for (let k = 0; k <= j; k += 2) {
        addBlock(sums, j * width + k, width, weight, a, b, column(k), column(k + 1), from, to);
      }
    }
  }
  return Array.from({ length: size }, (_, j) =>
    Array.from({ length: size }, (__, k) => sums[Math.max(j, k) * width + Math.min(j, k)]!),
  );
}

/** Rows `from` up to `to` of {a, b} times {c, d}. */
function addBlock(
  sums: Float64Array,
  at: number,
  width: number,
  weight: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  d: Float64Array,
  from: number,
  to: number,
): void {
  let ac = 0;
  let ad = 0;
  let bc = 0;
  let bd = 0;
  // Every index is a row.
  for (let i = from; i < to; i += 1) {
    const share = weight[i]!;
    const left = share * a[i]!;
    const right = share * b[i]!;
    const top = c[i]!;
    const bottom = d[i]!;
    ac += left * top;
    ad += left * bottom;
    bc += right * top;
    bd += right * bottom;
  }
  sums[at]! += ac;
  sums[at + 1]! += ad;
  sums[at + width]! += bc;
  sums[at + width + 1]! += bd;
}
