const SINGULAR = 1e-10;

/** uᵀ V⁻¹ u for a symmetric V by Cholesky; undefined where V is singular to rounding. */
export function quadraticForm(
  u: readonly number[],
  matrix: readonly (readonly number[])[],
): number | undefined {
  const factor: number[][] = [];
  const solved: number[] = [];
  for (let row = 0; row < u.length; row++) {
    const line: number[] = [];
    for (let column = 0; column <= row; column++) {
      const above = column === row ? line : (factor[column] ?? []);
      let rest = matrix[row]?.[column] ?? 0;
      for (let k = 0; k < column; k++) rest -= (line[k] ?? 0) * (above[k] ?? 0);
      const diagonal = matrix[row]?.[row] ?? 0;
      if (column < row) line.push(rest / (above[column] ?? 1));
      else if (!(rest > SINGULAR * diagonal)) return undefined;
      else line.push(Math.sqrt(rest));
    }
    let rest = u[row] ?? 0;
    for (let k = 0; k < row; k++) rest -= (line[k] ?? 0) * (solved[k] ?? 0);
    solved.push(rest / (line[row] ?? 1));
    factor.push(line);
  }
  return solved.reduce((sum, part) => sum + part * part, 0);
}
