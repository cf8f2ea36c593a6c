import type { CoxRows } from "./cox-rows.ts";

/** The clusters of the rows of a fit, numbered in the order in which the observations name them. */
export interface FrailtyClusters {
  readonly count: number;
  /** Cluster of each place of the rows. */
  readonly of: Int32Array;
  /** Events of each cluster; copies counted. */
  readonly events: Int32Array;
  /** First row of the observations that belongs to each. */
  readonly firstRow: Int32Array;
  /** At k: how many clusters have more than k events. */
  readonly withMore: Int32Array;
}

export function frailtyClusters(rows: CoxRows, codes: Int32Array): FrailtyClusters {
  const { count: places, row, weight, eventRows } = rows;
  const byRow = Int32Array.from(row).sort();
  const known = new Map<number, number>();
  const first: number[] = [];
  for (const one of byRow) {
    if (known.has(codes[one]!)) continue;
    known.set(codes[one]!, known.size);
    first.push(one);
  }
  const of = new Int32Array(places);
  // Every code was just seen.
  for (let i = 0; i < places; i += 1) of[i] = known.get(codes[row[i]!]!)!;
  const events = new Int32Array(known.size);
  for (const i of eventRows) events[of[i]!]! += weight?.[i] ?? 1;
  return { count: known.size, of, events, firstRow: Int32Array.from(first), withMore: withMoreThan(events) };
}

/** What each place takes from its cluster. */
export function byPlace({ of }: FrailtyClusters, values: Float64Array): Float64Array {
  const spread = new Float64Array(of.length);
  for (let i = 0; i < spread.length; i += 1) spread[i] = values[of[i]!]!;
  return spread;
}

/** Hazards with the frailty of each cluster in them. */
export function timesFrailty(
  { of }: FrailtyClusters,
  hazards: Float64Array,
  log: Float64Array,
): Float64Array {
  const frailty = log.map(Math.exp);
  const whole = new Float64Array(of.length);
  for (let i = 0; i < whole.length; i += 1) whole[i] = hazards[i]! * frailty[of[i]!]!;
  return whole;
}

function withMoreThan(events: Int32Array): Int32Array {
  const withMore = new Int32Array(events.reduce((most, own) => Math.max(most, own), 0));
  for (const own of events) if (own > 0) withMore[own - 1]! += 1;
  for (let k = withMore.length - 2; k >= 0; k -= 1) withMore[k]! += withMore[k + 1]!;
  return withMore;
}
