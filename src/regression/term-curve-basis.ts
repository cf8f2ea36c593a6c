/**
 * The columns of a restricted cubic spline at x, for k knots k − 1 of them: x itself, and k − 2 that bend.
 *
 * With t₁ … t_k the knots and (u)₊ the larger of u and 0, column j + 1 is
 *
 *   [ (x − t_j)₊³ − (x − t_{k−1})₊³ (t_k − t_j) / (t_k − t_{k−1}) + (x − t_k)₊³ (t_{k−1} − t_j) / (t_k − t_{k−1}) ] / (t_k − t₁)²,
 *
 * which is a straight line before the first knot and after the last. The divisor keeps all columns in the units of x.
 *
 * Source: Harrell, Regression Modeling Strategies, 2nd edition 2015, section 2.4 (recalled, not read).
 *
 * @example
 * curveBasis([0, 1, 3], 2); // [2, 0.7222222222222222]
 */
export function curveBasis(knots: readonly number[], x: number): number[] {
  const last = knots.at(-1) ?? 0;
  const before = knots.at(-2) ?? 0;
  const span = last - (knots[0] ?? 0);
  const bends = knots.slice(0, -2).map((knot) => {
    const tail = cube(x - before) * (last - knot) - cube(x - last) * (before - knot);
    return (cube(x - knot) - tail / (last - before)) / (span * span);
  });
  return [x, ...bends];
}

function cube(value: number): number {
  return value > 0 ? value * value * value : 0;
}
