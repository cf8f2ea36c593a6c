/** Where a search for the solution of linear equations ended. */
export interface GradientSolution {
  readonly solution: Float64Array;
  readonly converged: boolean;
  readonly steps: number;
}

export interface GradientOptions {
  /** Ends where the residual, measured by the preconditioner, has shrunk to this share. Default 1e-12. */
  readonly relativeTolerance?: number;
  /** Default 200. */
  readonly mostSteps?: number;
}

/**
 * x with A x = b for a symmetric positive definite A that is known only by what it makes of a vector.
 *
 * Preconditioned conjugate gradients: as many steps as A, seen through the preconditioner, has different eigenvalues.
 * `precondition` must be symmetric and positive definite itself, and near the inverse of A to be of use.
 */
export function conjugateGradient(
  apply: (vector: Float64Array) => Float64Array,
  b: Float64Array,
  precondition: (vector: Float64Array) => Float64Array,
  options: GradientOptions = {},
): GradientSolution {
  const { relativeTolerance = 1e-12, mostSteps = 200 } = options;
  const solution = new Float64Array(b.length);
  const residual = b.slice();
  let near = precondition(residual);
  let direction = near;
  let size = dot(residual, near);
  const enough = relativeTolerance * relativeTolerance * size;
  for (let steps = 0; ; steps += 1) {
    if (!(size > enough)) return { solution, converged: true, steps };
    if (steps === mostSteps) return { solution, converged: false, steps };
    const image = apply(direction);
    const bend = dot(direction, image);
    if (!(bend > 0)) return { solution, converged: false, steps };
    const stride = size / bend;
    for (let at = 0; at < b.length; at += 1) {
      solution[at]! += stride * direction[at]!;
      residual[at]! -= stride * image[at]!;
    }
    near = precondition(residual);
    const before = size;
    size = dot(residual, near);
    const kept = size / before;
    direction = near.map((value, at) => value + kept * direction[at]!);
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < a.length; at += 1) sum += a[at]! * b[at]!;
  return sum;
}
