import type { Equation } from "./equation.ts";

/** An unknown in more equations than this is a large total; its pairs would be many and tell little. */
const MOST_EQUATIONS_PER_UNKNOWN = 8;

/**
 * Differences of two equations in which more than one unknown drops out.
 *
 * Solving for single unknowns can lose these: "a and b and c are 69" and "a and b are 67" leave c = 2 at once.
 */
export function differences(equations: readonly Equation[]): Equation[] {
  return [...byUnknown(equations)].flatMap(([unknown, members]) => {
    if (members.length > MOST_EQUATIONS_PER_UNKNOWN) return [];
    return members.flatMap((second, at) =>
      members.slice(0, at).flatMap((first) => difference(first, second, unknown) ?? []),
    );
  });
}

function byUnknown(equations: readonly Equation[]): Map<number, Equation[]> {
  const found = new Map<number, Equation[]>();
  for (const equation of equations) {
    for (const unknown of equation.factors.keys()) {
      const members = found.get(unknown) ?? [];
      members.push(equation);
      found.set(unknown, members);
    }
  }
  return found;
}

/** Without the unknown; undefined where nothing else drops out, or where another shared unknown has the turn. */
function difference(first: Equation, second: Equation, unknown: number): Equation | undefined {
  const times = (first.factors.get(unknown) ?? 0) / (second.factors.get(unknown) ?? 1);
  let dropped = 0;
  for (const [other, factor] of second.factors) {
    if (first.factors.get(other) !== times * factor) continue;
    if (other < unknown) return undefined;
    dropped += 1;
  }
  if (dropped < 2) return undefined;
  const factors = new Map(first.factors);
  for (const [other, factor] of second.factors) {
    const left = (factors.get(other) ?? 0) - times * factor;
    if (left === 0) factors.delete(other);
    else factors.set(other, left);
  }
  return factors.size === 0 ? undefined : { factors, value: first.value - times * second.value };
}
