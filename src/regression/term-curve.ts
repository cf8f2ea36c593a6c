import { ArgumentError } from "../base/errors.ts";
import { requireInnerProbability } from "../numeric/argument-checks.ts";
import { finiteValues, numbersOf } from "./term-columns.ts";
import { curveBasis } from "./term-curve-basis.ts";
import type { TermPlan } from "./term-plan.ts";

/** Usual places of four knots. */
const QUANTILES = [0.05, 0.35, 0.65, 0.95];

export interface CurveTermOptions {
  /** Three or more places where the curve may bend, ascending, in the units of the column. */
  readonly knots?: readonly number[];
  /** In place of knots: quantiles of the rows used, linear between ordered values. Default 0.05, 0.35, 0.65, 0.95. */
  readonly quantiles?: readonly number[];
  /** The word shown to readers. Default the field's name. */
  readonly word?: string;
}

/**
 * A smooth effect of a number: a restricted cubic spline, straight before the first knot and after the last.
 *
 * k knots give k − 1 columns (see `curveBasis`). Single coefficients say little; test the term, or draw the curve from
 * the knots, which the term carries.
 *
 * @example
 * curveTerm("age", { knots: [50, 65, 80] }).kind; // "curve"
 */
export function curveTerm(field: string, options: CurveTermOptions = {}): TermPlan {
  const { knots, quantiles = QUANTILES, word = field } = options;
  if (knots !== undefined && options.quantiles !== undefined)
    throw new ArgumentError(`curveTerm: "${word}" takes knots or quantiles, not both`);
  if (knots !== undefined) requireKnots("curveTerm", word, knots);
  for (const share of quantiles) requireInnerProbability("curveTerm", "each quantile", share);
  return {
    name: word,
    kind: "curve",
    needs: (columnOf) => [columnOf(word, field)],
    build: (columnOf, rows) => {
      const x = finiteValues(word, numbersOf(word, columnOf(word, field)), rows, (value) => value);
      const places = knots ?? (rows.length === 0 ? quantiles : quantilesOf(x, quantiles));
      requireKnots("modelMatrix", word, places);
      return { columns: basisColumns(word, places, x), knots: [...places] };
    },
  };
}

function basisColumns(word: string, knots: readonly number[], x: Float64Array) {
  const columns = knots.slice(1).map((_, at) => ({
    name: at === 0 ? `${word}: straight part` : `${word}: bend ${at} of ${knots.length - 2}`,
    values: new Float64Array(x.length),
  }));
  for (let row = 0; row < x.length; row += 1) {
    const basis = curveBasis(knots, x[row] ?? 0);
    for (const [at, { values }] of columns.entries()) values[row] = basis[at] ?? 0;
  }
  return columns;
}

/** Type 7. */
function quantilesOf(x: Float64Array, shares: readonly number[]): number[] {
  const ordered = x.slice().sort();
  return shares.map((share) => {
    const place = share * (ordered.length - 1);
    const below = Math.floor(place);
    const [low = 0, high = low] = [ordered[below], ordered[below + 1]];
    return low + (place - below) * (high - low);
  });
}

function requireKnots(where: string, word: string, knots: readonly number[]): void {
  const isAscending = knots.every((knot, at) => Number.isFinite(knot) && knot > (knots[at - 1] ?? -Infinity));
  if (knots.length >= 3 && isAscending) return;
  throw new ArgumentError(
    `${where}: "${word}" needs three or more different knots in ascending order; ` +
      "where many values are equal, give the knots themselves",
  );
}
