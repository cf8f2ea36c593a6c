import type { ObservationColumns, Observations } from "../survival/observations.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Rows cut at ticks, as observations of their own, and what each piece came from. */
export interface CutRows {
  readonly columns: ObservationColumns;
  /** Row of the matrix, and window, of each piece. */
  readonly place: Int32Array;
  readonly window: Int32Array;
}

// As many as observations may name.
const MOST_STRATA = 65_535;

/**
 * The rows of a model cut at every tick of `cuts` that lies within their follow-up; window k is (cut k − 1, cut k].
 * Pieces of a row share its case id, or one made from the row's number.
 *
 * No two windows share a risk set, so each window of a stratum becomes a stratum of its own. The fit is the same and costs less,
 * since whoever comes into a window from the one before it is there from the start.
 */
export function cutRows(observations: Observations, matrix: ModelMatrix, cuts: readonly number[]): CutRows {
  const { exit, event, weight, stratum, cluster, caseId } = observations;
  const isApart = observations.stratum.labels.length * (cuts.length + 1) <= MOST_STRATA;
  const windows = isApart ? cuts.length + 1 : 1;
  const { place, window, row, from, to } = piecesOf(observations, matrix, cuts);
  const taken = <Column extends Int32Array | Uint16Array | Float64Array>(source: Column, into: Column) => {
    // Every piece comes from a row.
    for (let piece = 0; piece < into.length; piece += 1) into[piece] = source[row[piece]!]!;
    return into;
  };
  const whole = () => new Int32Array(row.length);
  const columns: ObservationColumns = {
    entry: from,
    exit: to,
    event: row.map((one, piece) => (to[piece] === exit[one] ? event[one]! : 0)),
    stratum: {
      codes: row.map((one, piece) => stratum.codes[one]! * windows + (isApart ? window[piece]! : 0)),
      labels: Array.from({ length: stratum.labels.length * windows }, (_, code) => String(code)),
    },
    caseId: caseId === undefined ? row : taken(caseId, whole()),
    causes: observations.causes,
    timeUnit: observations.timeUnit,
    ...(weight && {
      weight: { kind: weight.kind, values: taken(weight.values, new Float64Array(row.length)) },
    }),
    ...(cluster && { cluster: { codes: taken(cluster.codes, whole()), word: cluster.word } }),
  };
  return { columns, place, window };
}

interface Pieces {
  readonly place: Int32Array;
  readonly window: Int32Array;
  readonly row: Int32Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
}

function piecesOf({ exit, entry }: Observations, { rows }: ModelMatrix, cuts: readonly number[]): Pieces {
  const most = rows.length * (cuts.length + 1);
  const [place, window, row, from, to] = [0, 1, 2, 3, 4].map(() => new Int32Array(most)) as [
    Int32Array,
    Int32Array,
    Int32Array,
    Int32Array,
    Int32Array,
  ];
  let count = 0;
  for (let at = 0; at < rows.length; at += 1) {
    const own = rows[at]!;
    const last = exit[own]!;
    let begin = entry === undefined ? -1 : entry[own]!;
    for (let k = 0; k <= cuts.length && begin < last; k += 1) {
      const end = Math.min(last, cuts[k] ?? last);
      if (end <= begin) continue;
      place[count] = at;
      window[count] = k;
      row[count] = own;
      from[count] = begin;
      to[count] = end;
      count += 1;
      begin = end;
    }
  }
  const filled = (column: Int32Array) => column.subarray(0, count);
  return {
    place: filled(place),
    window: filled(window),
    row: filled(row),
    from: filled(from),
    to: filled(to),
  };
}
