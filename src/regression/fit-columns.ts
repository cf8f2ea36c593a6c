import type { SymmetricMatrix } from "../numeric/symmetric-matrix.ts";
import { independentColumns } from "./independent-columns.ts";
import type { ModelMatrix } from "./model-matrix.ts";
import { type ScaledColumn, scaledColumn } from "./scaled-columns.ts";
import { weightedCrossProducts } from "./weighted-cross-products.ts";

/** A column that takes no part in a fit, since it says nothing of its own. */
export interface IdleColumn {
  readonly column: string;
  readonly code: "constant" | "collinear";
  readonly because: string;
}

/** The columns that a fit works on, and the way back to the caller's units. */
export interface FitColumns {
  /** Scaled columns; the constant comes first where there is one. */
  readonly values: readonly Float64Array[];
  readonly names: readonly string[];
  /** For each coefficient in the caller's units, its weights on the scaled ones. */
  readonly axes: readonly (readonly number[])[];
  readonly idle: readonly IdleColumn[];
}

/** Columns of the rows at `places`, centred, scaled and without those that say nothing of their own. */
export function fitColumns(
  where: string,
  matrix: ModelMatrix,
  places: Int32Array,
  hasConstant: boolean,
): FitColumns {
  return fitColumnsOf(
    matrix.columns.map(({ name, values }) => scaledColumn(where, name, values, places)),
    places.length,
    hasConstant,
  );
}

/** The same from columns that are scaled already. */
export function fitColumnsOf(
  scaled: readonly ScaledColumn[],
  rows: number,
  hasConstant: boolean,
): FitColumns {
  const idle = idleColumns(scaled, rows);
  const left = new Set(idle.map(({ column }) => column));
  const kept = scaled.filter(({ name }) => !left.has(name));
  const constant = hasConstant ? [new Float64Array(rows).fill(1)] : [];
  return {
    values: [...constant, ...kept.map(({ values }) => values)],
    names: [...constant.map(() => CONSTANT), ...kept.map(({ name }) => name)],
    axes: callerAxes(kept, hasConstant),
    idle,
  };
}

/** Column and term of what a model adds when nothing else is there. */
export const CONSTANT = "constant";

function idleColumns(scaled: readonly ScaledColumn[], rows: number): IdleColumn[] {
  const correlation = weightedCrossProducts(
    scaled.map(({ values }) => values),
    new Float64Array(rows).fill(1 / rows),
  );
  const nameOf = (column: number) => scaled[column]?.name ?? "";
  return independentColumns(correlation, 1).dropped.map(({ column, by }) =>
    by.length === 0
      ? { column: nameOf(column), code: "constant", because: "the column has one value in all rows used" }
      : {
          column: nameOf(column),
          code: "collinear",
          because: `the column is given by ${by.map(nameOf).join(", ")}`,
        },
  );
}

function callerAxes(kept: readonly ScaledColumn[], hasConstant: boolean): number[][] {
  const first = hasConstant ? 1 : 0;
  const slopes = kept.map(({ scale }, at) =>
    Array.from({ length: first + kept.length }, (_, place) => (place === first + at ? 1 / scale : 0)),
  );
  return hasConstant ? [[1, ...kept.map(({ centre, scale }) => -centre / scale)], ...slopes] : slopes;
}

/** Coefficients of scaled columns in the caller's units. */
export function inCallerUnits({ axes }: FitColumns, scaled: ArrayLike<number>): number[] {
  return axes.map((axis) => axis.reduce((sum, weight, at) => sum + weight * (scaled[at] ?? 0), 0));
}

/** A V Aᵀ: the covariance of A x from that of x, and a sandwich where A is the bread. */
export function turned(axes: readonly (readonly number[])[], covariance: SymmetricMatrix): number[][] {
  const along = (row: readonly number[]) =>
    axes.map((axis) => axis.reduce((sum, weight, at) => sum + weight * (row[at] ?? 0), 0));
  const half = covariance.map(along);
  const whole = axes.map((_, a) => along(half.map((row) => row[a] ?? 0)));
  // Symmetric by construction, not only to rounding.
  return whole.map((row, a) => row.map((value, b) => (b <= a ? value : (whole[b]?.[a] ?? value))));
}
