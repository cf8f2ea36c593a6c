import {
  type CholeskyFactor,
  choleskyFactor,
  choleskySolve,
  type SymmetricMatrix,
} from "../numeric/symmetric-matrix.ts";

/** A cluster's own part of the information; the factor of the rest where the rest could be fitted by itself. */
export interface OwnPart {
  readonly own: SymmetricMatrix;
  readonly rest: CholeskyFactor | undefined;
}

/**
 * Degrees of freedom of a variance summed over clusters whose scores were corrected for their own part: how many clusters
 * it is as good as, for a number that moves with the score by `byScore`: A⁻¹ times its slope along the coefficients.
 *
 * Were rows independent, the scores of clusters c and d would vary together as A_c, where c is d, less A_c A⁻¹ A_d, because
 * all of them add up to nothing. Corrected and turned into the number they make a matrix G, whose tr(G)²/tr(G²) is answered.
 * With g_c = (A − A_c)⁻¹ A byScore and v_c = A_c g_c its entries are g_c′v_c, where c is d, less v_c′A⁻¹v_d.
 *
 * Sources: Satterthwaite 1946; Bell and McCaffrey 2002.
 */
export function scoreFreedom(
  information: SymmetricMatrix,
  parts: readonly OwnPart[],
): (byScore: readonly number[]) => number {
  const whole = choleskyFactor(information);
  if (whole === undefined) return () => 0;
  return (byScore) => {
    const size = byScore.length;
    const slope = information.map((line) => dot(line, byScore));
    // Σ v v′A⁻¹: the trace of its square is that of all v_c′A⁻¹v_d squared.
    const turned = byScore.map(() => new Float64Array(size));
    let [trace, squares] = [0, 0];
    for (const { own, rest } of parts) {
      const g = rest === undefined ? byScore : choleskySolve(rest, slope);
      const v = own.map((line) => dot(line, g));
      const solved = choleskySolve(whole, v);
      const shared = dot(v, solved);
      const alone = dot(g, v) - shared;
      trace += alone;
      squares += alone * alone - shared * shared;
      for (let j = 0; j < size; j += 1) {
        for (let k = 0; k < size; k += 1) turned[j]![k]! += v[j]! * solved[k]!;
      }
    }
    for (let j = 0; j < size; j += 1) {
      for (let k = 0; k < size; k += 1) squares += turned[j]![k]! * turned[k]![j]!;
    }
    return squares > 0 ? (trace * trace) / squares : 0;
  };
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, k) => sum + value * b[k]!, 0);
}
