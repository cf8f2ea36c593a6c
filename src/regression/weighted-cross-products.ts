// Rows taken at a time, so that the columns stay near the processor while every pair of them is multiplied.
const CHUNK = 1024;

/**
 * Σ over rows of weight · x_j · x_k, for every pair of columns.
 *
 * Two columns are multiplied with four others in one pass: eight sums for seven readings.
 */
export function weightedCrossProducts(columns: readonly Float64Array[], weight: Float64Array): number[][] {
  const size = columns.length;
  const width = 4 * Math.ceil(size / 4);
  const sums = new Float64Array(width * width);
  // Columns past the last one are that one again; what they add lies outside the answer.
  const column = (k: number) => columns[Math.min(k, size - 1)]!;
  for (let from = 0; from < weight.length; from += CHUNK) {
    const to = Math.min(from + CHUNK, weight.length);
    for (let j = 0; j < size; j += 2) {
      const two = [column(j), column(j + 1)] as const;
      for (let k = 0; k <= j; k += 4) {
        const four = [column(k), column(k + 1), column(k + 2), column(k + 3)] as const;
        addBlock(sums, j * width + k, width, weight, two, four, from, to);
      }
    }
  }
  return Array.from({ length: size }, (_, j) =>
    Array.from({ length: size }, (__, k) => sums[Math.max(j, k) * width + Math.min(j, k)]!),
  );
}

/** Rows `from` up to `to` of {a, b} times {c, d, e, f}. */
function addBlock(
  sums: Float64Array,
  at: number,
  width: number,
  weight: Float64Array,
  [a, b]: readonly [Float64Array, Float64Array],
  [c, d, e, f]: readonly [Float64Array, Float64Array, Float64Array, Float64Array],
  from: number,
  to: number,
): void {
  let [ac, ad, ae, af] = [0, 0, 0, 0];
  let [bc, bd, be, bf] = [0, 0, 0, 0];
  // Every index is a row.
  for (let i = from; i < to; i += 1) {
    const share = weight[i]!;
    const left = share * a[i]!;
    const right = share * b[i]!;
    const p = c[i]!;
    const q = d[i]!;
    const r = e[i]!;
    const s = f[i]!;
    ac += left * p;
    ad += left * q;
    ae += left * r;
    af += left * s;
    bc += right * p;
    bd += right * q;
    be += right * r;
    bf += right * s;
  }
  sums[at]! += ac;
  sums[at + 1]! += ad;
  sums[at + 2]! += ae;
  sums[at + 3]! += af;
  sums[at + width]! += bc;
  sums[at + width + 1]! += bd;
  sums[at + width + 2]! += be;
  sums[at + width + 3]! += bf;
}
