import { ArgumentError } from "../base/errors.ts";
import { type Clusters, WEIGHT_KINDS, type WeightKind } from "../survival/observations.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** An outcome and what belongs to it: one element for each row of the table that the terms were built from. */
export interface OutcomeColumns {
  readonly outcome: ArrayLike<number>;
  readonly weight?: { readonly kind: WeightKind; readonly values: ArrayLike<number> };
  readonly cluster?: Clusters;
}

/** The rows of a fit: those of the matrix with a weight above 0. */
export interface OutcomeRows {
  /** Rows of the matrix. */
  readonly places: Int32Array;
  readonly outcome: Float64Array;
  readonly weight?: { readonly kind: WeightKind; readonly values: Float64Array };
  /** Clusters numbered in order of appearance. */
  readonly cluster?: { readonly word: string; readonly codes: Int32Array; readonly count: number };
}

/** Rows that a fit can rely on: complete, finite, and matched to the rows of the matrix. */
export function outcomeRows(
  where: string,
  { outcome, weight, cluster }: OutcomeColumns,
  matrix: ModelMatrix,
  accepted: { readonly words: string; readonly holds: (value: number) => boolean },
): OutcomeRows {
  const last = matrix.rows.at(-1) ?? -1;
  const columns = { outcome, weight: weight?.values, cluster: cluster?.codes };
  for (const [name, column] of Object.entries(columns)) {
    if (column === undefined || (column.length === outcome.length && column.length > last)) continue;
    throw new ArgumentError(
      `${where}: ${name} has ${column.length} elements; give one for each row of the table that the terms were built from`,
    );
  }
  if (weight !== undefined && !WEIGHT_KINDS.includes(weight.kind))
    throw new ArgumentError(`${where}: weight kind must be ${WEIGHT_KINDS.join(" or ")}`);
  const wanted = (
    name: string,
    words: string,
    values: ArrayLike<number>,
    holds: (value: number) => boolean,
  ) =>
    Float64Array.from(matrix.rows, (row) => {
      const value = values[row] ?? Number.NaN;
      if (holds(value)) return value;
      throw new ArgumentError(`${where}: row ${row + 1}, ${name}: must be ${words}`);
    });
  const isCopies = weight?.kind === "copies";
  const weights =
    weight &&
    wanted(
      "weight",
      isCopies ? "a whole number from 0 up" : "a finite number from 0 up",
      weight.values,
      (value) => (isCopies ? isCount(value) : Number.isFinite(value) && value >= 0),
    );
  const values = wanted("outcome", accepted.words, outcome, accepted.holds);
  const codes = cluster && wanted("cluster", "a whole number from 0 up", cluster.codes, isCount);
  const all = Int32Array.from({ length: values.length }, (_, place) => place);
  const places = weights === undefined ? all : all.filter((place) => weights[place] !== 0);
  const at = (source: Float64Array) =>
    places.length === source.length ? source : Float64Array.from(places, (place) => source[place] ?? 0);
  return {
    places,
    outcome: at(values),
    ...(weight && weights && { weight: { kind: weight.kind, values: at(weights) } }),
    ...(cluster && codes && { cluster: { word: cluster.word, ...denseCodes(at(codes)) } }),
  };
}

function isCount(value: number): boolean {
  return Number.isSafeInteger(value) && value >= 0;
}

function denseCodes(codes: Float64Array): { codes: Int32Array; count: number } {
  const numbers = new Map<number, number>();
  const dense = Int32Array.from(codes, (code) => {
    const number = numbers.get(code) ?? numbers.size;
    numbers.set(code, number);
    return number;
  });
  return { codes: dense, count: numbers.size };
}
