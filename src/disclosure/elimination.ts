import type { Equation } from "./equation.ts";

/** Factors are small whole numbers and their quotients; anything this near 0 is rounding. */
const NOTHING = 1e-9;

/**
 * The same equations solved for one unknown each, as far as they go (Gauss and Jordan).
 *
 * An unknown that the equations fix stands alone in one of them.
 */
export function eliminate(equations: readonly Equation[]): Equation[] {
  const solved: { pivot: number; factors: Map<number, number>; value: number }[] = [];
  for (const equation of equations) {
    const row = { factors: new Map(equation.factors), value: equation.value };
    for (const done of solved) subtract(row, done, done.pivot);
    const pivot = [...row.factors.keys()][0];
    if (pivot === undefined) continue;
    const scale = row.factors.get(pivot) ?? 1;
    for (const [place, factor] of row.factors) row.factors.set(place, factor / scale);
    row.value /= scale;
    for (const done of solved) subtract(done, row, pivot);
    solved.push({ pivot, ...row });
  }
  return solved;
}

/** Takes as much of `other` from the row as removes the pivot. */
function subtract(
  row: { factors: Map<number, number>; value: number },
  other: { readonly factors: ReadonlyMap<number, number>; readonly value: number },
  pivot: number,
): void {
  const times = row.factors.get(pivot);
  if (times === undefined) return;
  for (const [place, factor] of other.factors) {
    const left = (row.factors.get(place) ?? 0) - times * factor;
    if (Math.abs(left) < NOTHING) row.factors.delete(place);
    else row.factors.set(place, left);
  }
  row.value -= times * other.value;
}
