import { ArgumentError } from "../base/errors.ts";

/** Rows of a symmetric matrix; only the lower triangle is read. */
export type SymmetricMatrix = readonly (readonly number[])[];

/** Lower triangular factor L with A = L Lᵀ, for a positive definite matrix. */
export interface CholeskyFactor {
  readonly size: number;
  readonly rows: readonly Float64Array[];
}

// A pivot this small beside its own diagonal is rounding, not information.
const SINGULAR = 1e-12;

/** Cholesky factor, or undefined where the matrix is not positive definite to rounding. */
export function choleskyFactor(matrix: SymmetricMatrix): CholeskyFactor | undefined {
  const size = requireSquare("choleskyFactor", matrix);
  const rows = matrix.map(() => new Float64Array(size));
  for (let i = 0; i < size; i += 1) {
    const own = rows[i] ?? new Float64Array(0);
    for (let j = 0; j <= i; j += 1) {
      const rest = (matrix[i]?.[j] ?? 0) - dot(own, rows[j] ?? own, j);
      if (j < i) own[j] = rest / (rows[j]?.[j] ?? 1);
      else if (rest > SINGULAR * Math.abs(matrix[i]?.[i] ?? 0)) own[i] = Math.sqrt(rest);
      else return undefined;
    }
  }
  return { size, rows };
}

/** x with A x = b, from the factor of A. */
export function choleskySolve({ size, rows }: CholeskyFactor, b: ArrayLike<number>): number[] {
  const x = Array.from({ length: size }, (_, i) => b[i] ?? 0);
  for (let i = 0; i < size; i += 1) {
    x[i] = ((x[i] ?? 0) - dot(rows[i] ?? [], x, i)) / (rows[i]?.[i] ?? 1);
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    let rest = x[i] ?? 0;
    for (let j = i + 1; j < size; j += 1) rest -= (rows[j]?.[i] ?? 0) * (x[j] ?? 0);
    x[i] = rest / (rows[i]?.[i] ?? 1);
  }
  return x;
}

/** Inverse of a positive definite matrix, or undefined where it is not positive definite to rounding. */
export function symmetricInverse(matrix: SymmetricMatrix): number[][] | undefined {
  const factor = choleskyFactor(matrix);
  if (factor === undefined) return undefined;
  const columns = matrix.map((_, k) =>
    choleskySolve(
      factor,
      matrix.map((_, i) => (i === k ? 1 : 0)),
    ),
  );
  // Symmetric by construction, not only to rounding.
  return columns.map((column, i) => column.map((value, j) => (j <= i ? value : (columns[j]?.[i] ?? value))));
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>, length: number): number {
  let sum = 0;
  for (let k = 0; k < length; k += 1) sum += (a[k] ?? 0) * (b[k] ?? 0);
  return sum;
}

function requireSquare(where: string, matrix: SymmetricMatrix): number {
  if (matrix.some((row) => row.length !== matrix.length)) {
    throw new ArgumentError(`${where}: the matrix must have as many columns as rows`);
  }
  return matrix.length;
}
