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

/**
 * The places given of one column, centred and scaled, in their order or each at its rank.
 *
 * The source is read in order each time and written once: reading it in the order of ranks would wait for memory.
 */
export function scaledColumn(
  where: string,
  name: string,
  source: Float64Array,
  places: Int32Array,
  rank?: Int32Array,
): ScaledColumn {
  let [least, most, sum] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (let at = 0; at < places.length; at += 1) {
    // Places are rows of the matrix.
    const value = source[places[at]!]!;
    if (!(Math.abs(value) < LARGEST)) throw tooLarge(where, name, places[at]! + 1);
    sum += value;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  const isConstant = !(most > least);
  const centre = isConstant ? (source[places[0] ?? 0] ?? 0) : sum / places.length;
  let squares = 0;
  for (let at = 0; at < places.length; at += 1) {
    const distance = source[places[at]!]! - centre;
    squares += distance * distance;
  }
  const scale = isConstant ? 1 : Math.sqrt(squares / places.length);
  const values = new Float64Array(places.length);
  for (let at = 0; at < places.length; at += 1) {
    values[rank === undefined ? at : rank[at]!] = (source[places[at]!]! - centre) / scale;
  }
  return { name, values, centre, scale, isConstant };
}

// Squares of larger numbers run over.
const LARGEST = 1e150;

function tooLarge(where: string, name: string, row: number): ArgumentError {
  return new ArgumentError(
    `${where}: row ${row} of the model matrix, ${name}: must be a finite number below ${LARGEST}`,
  );
}
