import { ArgumentError } from "../base/errors.ts";

/** A column centred on its mean and divided by its standard deviation, so that no fit depends on its unit. */
export interface ScaledColumn {
  readonly name: string;
  readonly values: Float64Array;
  readonly centre: number;
  /** 1 for a column that is the same in every row. */
  readonly scale: number;
  readonly isConstant: boolean;
}

/** The places given of one column, centred and scaled. */
export function scaledColumn(
  where: string,
  name: string,
  source: Float64Array,
  places: Int32Array,
): ScaledColumn {
  const values = new Float64Array(places.length);
  let [least, most, sum] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (let at = 0; at < places.length; at += 1) {
    // Places are rows of the matrix.
    const value = source[places[at]!]!;
    if (!(Math.abs(value) < LARGEST)) {
      throw new ArgumentError(
        `${where}: row ${places[at]! + 1} of the model matrix, ${name}: must be a finite number below ${LARGEST}`,
      );
    }
    values[at] = value;
    sum += value;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  const isConstant = !(most > least);
  const centre = isConstant ? (values[0] ?? 0) : sum / values.length;
  let squares = 0;
  for (let at = 0; at < values.length; at += 1) {
    values[at]! -= centre;
    squares += values[at]! * values[at]!;
  }
  const scale = isConstant ? 1 : Math.sqrt(squares / values.length);
  for (let at = 0; at < values.length; at += 1) values[at]! /= scale;
  return { name, values, centre, scale, isConstant };
}

// Squares of larger numbers run over.
const LARGEST = 1e150;
