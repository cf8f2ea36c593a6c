import { ArgumentError } from "../base/errors.ts";
import type { CoxState } from "./cox-state.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Refuses the matrix of a group that is not the one of the fit but for its values. */
export function checkGroup(
  matrix: ModelMatrix,
  { label, matrix: own }: { label: string; matrix: ModelMatrix },
): void {
  const same =
    own.rows.length === matrix.rows.length &&
    (own.rows === matrix.rows || own.rows.every((row, at) => row === matrix.rows[at])) &&
    own.columns.length === matrix.columns.length &&
    own.columns.every(({ name }, at) => name === matrix.columns[at]!.name);
  if (same) return;
  throw new ArgumentError(
    `standardisedCurves: the matrix of group "${label}" has other rows or columns; build it from the same rows and terms`,
  );
}

/** Columns of a group's matrix, centred and scaled as those of the fit. Those that the fit has itself are not made again. */
export function columnsInGroups(
  { rows, columns, values }: CoxState,
  fitted: ModelMatrix,
): (matrix: ModelMatrix) => readonly Float64Array[] {
  const sourceOf = (matrix: ModelMatrix, wanted: string) =>
    matrix.columns.find(({ name }) => name === wanted)!.values;
  // By row of the matrix, so that each column is read in order; rows of weight 0 have no place.
  const placeOf = new Int32Array(fitted.rows.length).fill(-1);
  for (let i = 0; i < rows.count; i += 1) placeOf[rows.place[i]!] = i;
  return (matrix) =>
    columns.map(({ name, centre, scale }, j) => {
      const source = sourceOf(matrix, name);
      if (source === sourceOf(fitted, name)) return values[j]!;
      const scaled = new Float64Array(rows.count);
      for (let at = 0; at < source.length; at += 1) {
        if (placeOf[at]! >= 0) scaled[placeOf[at]!] = (source[at]! - centre) / scale;
      }
      return scaled;
    });
}
