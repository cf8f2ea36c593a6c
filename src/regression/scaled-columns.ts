import { ArgumentError } from "../base/errors.ts";
import { CHUNK } from "./add-columns.ts";

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
  const { mean, squares } = measuredColumn(source, places);
  // No value can lie further from the mean than the root of the squares.
  if (!(Math.abs(mean) < LARGEST / 2 && squares < (LARGEST / 4) * LARGEST)) {
    requireSmall(where, name, source, places);
  }
  const variance = squares / places.length;
  // Of one value in every row, rounding of the mean may leave some spread.
  const isConstant = !(variance > ROUNDING * mean * mean) && isOneValue(source, places);
  const centre = isConstant ? (source[places[0] ?? 0] ?? 0) : mean;
  const scale = isConstant ? 1 : Math.sqrt(variance);
  const values = new Float64Array(places.length);
  inChunks(places.length, (from, to) => scaleInto(values, source, places, rank, centre, scale, from, to));
  return { name, values, centre, scale, isConstant };
}

// Squares of larger numbers run over.
const LARGEST = 1e150;
const ROUNDING = 1e-12;

/** Mean, and squares of the distances from it: nothing else, since a million rows are read for every column. */
function measuredColumn(
  source: Float64Array,
  places: Int32Array,
): { readonly mean: number; readonly squares: number } {
  let [sum, squares] = [0, 0];
  inChunks(places.length, (from, to) => {
    sum = addedTo(sum, source, places, from, to);
  });
  const mean = sum / places.length;
  inChunks(places.length, (from, to) => {
    squares = squaresAddedTo(squares, mean, source, places, from, to);
  });
  return { mean, squares };
}

/** Calls for some rows at a time: a function called often is compiled once, a long loop again for every column. */
function inChunks(rows: number, work: (from: number, to: number) => void): void {
  for (let from = 0; from < rows; from += CHUNK) work(from, Math.min(from + CHUNK, rows));
}

// Places are rows of the matrix.
function addedTo(before: number, source: Float64Array, places: Int32Array, from: number, to: number): number {
  let sum = before;
  for (let at = from; at < to; at += 1) sum += source[places[at]!]!;
  return sum;
}

function squaresAddedTo(
  before: number,
  mean: number,
  source: Float64Array,
  places: Int32Array,
  from: number,
  to: number,
): number {
  let sum = before;
  for (let at = from; at < to; at += 1) {
    const distance = source[places[at]!]! - mean;
    sum += distance * distance;
  }
  return sum;
}

function scaleInto(
  values: Float64Array,
  source: Float64Array,
  places: Int32Array,
  rank: Int32Array | undefined,
  centre: number,
  scale: number,
  from: number,
  to: number,
): void {
  for (let at = from; at < to; at += 1) {
    values[rank === undefined ? at : rank[at]!] = (source[places[at]!]! - centre) / scale;
  }
}

function isOneValue(source: Float64Array, places: Int32Array): boolean {
  return places.every((place) => source[place] === source[places[0]!]);
}

function requireSmall(where: string, name: string, source: Float64Array, places: Int32Array): void {
  const found = places.find((place) => !(Math.abs(source[place]!) < LARGEST));
  if (found === undefined) return;
  throw new ArgumentError(
    `${where}: row ${found + 1} of the model matrix, ${name}: must be a finite number below ${LARGEST}`,
  );
}
