import type { ObservationColumns, Observations } from "../survival/observations.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Rows cut at ticks, as observations of their own, and what each piece came from. */
export interface CutRows {
  readonly columns: ObservationColumns;
  /** Row of the matrix, and window, of each piece. */
  readonly place: Int32Array;
  readonly window: Int32Array;
}

/**
 * The rows of a model cut at every tick of `cuts` that lies within their follow-up; window k is (cut k − 1, cut k].
 * Pieces of a row share its case id, or one made from the row's number.
 */
export function cutRows(observations: Observations, { rows }: ModelMatrix, cuts: readonly number[]): CutRows {
  const { exit, entry, event, weight, stratum, cluster, caseId } = observations;
  const place: number[] = [];
  const window: number[] = [];
  const from: number[] = [];
  const to: number[] = [];
  rows.forEach((row, at) => {
    const last = exit[row]!;
    let begin = entry?.[row] ?? -1;
    for (let own = 0; own <= cuts.length && begin < last; own += 1) {
      const end = Math.min(last, cuts[own] ?? last);
      if (end <= begin) continue;
      place.push(at);
      window.push(own);
      from.push(begin);
      to.push(end);
      begin = end;
    }
  });
  const row = place.map((at) => rows[at]!);
  const columns: ObservationColumns = {
    entry: from,
    exit: to,
    event: row.map((one, at) => (to[at] === exit[one] ? event[one]! : 0)),
    stratum: { codes: row.map((one) => stratum.codes[one]!), labels: stratum.labels },
    caseId: row.map((one) => caseId?.[one] ?? one),
    causes: observations.causes,
    timeUnit: observations.timeUnit,
    ...(weight && { weight: { kind: weight.kind, values: row.map((one) => weight.values[one]!) } }),
    ...(cluster && { cluster: { codes: row.map((one) => cluster.codes[one]!), word: cluster.word } }),
  };
  return { columns, place: Int32Array.from(place), window: Int32Array.from(window) };
}
