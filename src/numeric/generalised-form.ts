import type { SymmetricMatrix } from "./symmetric-matrix.ts";

// Beside its own diagonal: a small group keeps its information next to a large one.
const SINGULAR = 1e-10;

/**
 * uᵀ V⁻ u for a positive semidefinite V that may lack full rank, and the rank.
 *
 * For a score and its covariance: scores that add up to 0, groups never seen together and groups without information
 * only lower the rank, which is the degrees of freedom. Cholesky, taking the largest remaining diagonal first and
 * leaving out what the rows taken already explain.
 */
export function generalisedForm(
  u: readonly number[],
  matrix: SymmetricMatrix,
): { readonly value: number; readonly rank: number } {
  const size = u.length;
  const rest = matrix.map((row) => [...row]);
  const left = [...u];
  const open = new Set(u.keys());
  const at = (i: number, j: number) => rest[i]?.[j] ?? 0;
  let value = 0;
  let rank = 0;
  while (open.size > 0) {
    const pivot = largestLeft(
      open,
      (i) => at(i, i),
      (i) => SINGULAR * (matrix[i]?.[i] ?? 0),
    );
    if (pivot === undefined) break;
    open.delete(pivot);
    rank += 1;
    const diagonal = at(pivot, pivot);
    const own = left[pivot] ?? 0;
    value += (own * own) / diagonal;
    for (const i of open) {
      const factor = at(i, pivot) / diagonal;
      left[i] = (left[i] ?? 0) - factor * own;
      const row = rest[i] ?? [];
      for (let j = 0; j < size; j += 1) row[j] = (row[j] ?? 0) - factor * at(pivot, j);
    }
  }
  return { value, rank };
}

function largestLeft(
  open: ReadonlySet<number>,
  diagonal: (i: number) => number,
  least: (i: number) => number,
): number | undefined {
  let best: number | undefined;
  for (const i of open) {
    if (diagonal(i) > least(i) && (best === undefined || diagonal(i) > diagonal(best))) best = i;
  }
  return best;
}
