import type { LikelihoodPoint } from "../numeric/newton.ts";
import { type CholeskyFactor, choleskyFactor, choleskySolve } from "../numeric/symmetric-matrix.ts";
import { addColumns, CHUNK } from "./add-columns.ts";

/**
 * A log-likelihood plus half the logarithm of the determinant of its information: Firth's penalty, Jeffreys' prior.
 *
 * `penaltySlope` gives the slope of that half logarithm from the inverse information. The curvature handed on is that of the
 * likelihood alone, which is enough to climb by. Where the information is singular the penalty is without bound: no such
 * point is ever a step up.
 */
export function penalisedPoint<Point extends LikelihoodPoint>(
  point: Point,
  penaltySlope: (inverse: readonly (readonly number[])[]) => readonly number[],
): LikelihoodPoint {
  const { information, score } = point;
  const factor = choleskyFactor(information);
  if (factor === undefined) {
    return { logLikelihood: -Number.MAX_VALUE, score: Array.from(score, () => 0), information };
  }
  const slope = penaltySlope(inverseOf(factor));
  return {
    logLikelihood: point.logLikelihood + halfLogDeterminant(factor),
    score: slope.map((own, k) => own + (score[k] ?? 0)),
    information,
  };
}

function halfLogDeterminant({ rows }: CholeskyFactor): number {
  return rows.reduce((sum, row, at) => sum + Math.log(row[at] ?? 1), 0);
}

function inverseOf(factor: CholeskyFactor): number[][] {
  return factor.rows.map((_, k) =>
    choleskySolve(
      factor,
      factor.rows.map((__, at) => (at === k ? 1 : 0)),
    ),
  );
}

/** xᵀ V x of each row. */
export function quadraticForms(
  values: readonly Float64Array[],
  matrix: readonly (readonly number[])[],
  rows: number,
): Float64Array {
  const forms = new Float64Array(rows);
  const half = new Float64Array(rows);
  // x_j · (V_jj x_j + 2 Σ V_jk x_k over the columns before).
  const slopes = values.map((_, j) =>
    Array.from({ length: j + 1 }, (__, k) => (matrix[j]?.[k] ?? 0) * (k < j ? 2 : 1)),
  );
  const upTo = values.map((_, j) => values.slice(0, j + 1));
  for (let from = 0; from < rows; from += CHUNK) {
    const to = Math.min(from + CHUNK, rows);
    for (let j = 0; j < values.length; j += 1) {
      const own = values[j]!;
      half.fill(0, from, to);
      addColumns(half, upTo[j]!, slopes[j]!, from, to);
      for (let row = from; row < to; row += 1) forms[row]! += own[row]! * half[row]!;
    }
  }
  return forms;
}
