import { ArgumentError } from "../base/errors.ts";
import type { Observations } from "./observations.ts";

/** What varies independently: clusters, else cases where they are cut in rows, else rows. */
export interface Units {
  readonly word: string | null;
  /** Unit of each row; absent where each row is its own. */
  readonly codes?: Int32Array;
  readonly count: number;
  /**
   * What a row's influence is multiplied by before it is added to its unit's. A copy that is a unit of its own adds
   * its own square, so unclustered copies enter by the root of their number.
   */
  readonly factor: (row: number) => number;
}

export function independentUnits(observations: Observations, clustered: boolean): Units {
  const { cluster, caseId, weight, rows } = observations;
  const values = weight?.values;
  if (values !== undefined) requireSquares(values);
  const plain = values === undefined ? () => 1 : (row: number) => values[row] ?? 0;
  if (clustered && cluster !== undefined) {
    return { word: cluster.word, codes: cluster.codes, count: cluster.count, factor: plain };
  }
  const root = (row: number) => Math.sqrt(plain(row));
  const factor = weight?.kind === "copies" ? root : plain;
  if (caseId === undefined) return { word: null, count: rows, factor };
  return { word: null, ...denseCodes(caseId), factor };
}

// Influence divides by squares of weighted sums, which must neither vanish nor run over.
const [LEAST_WEIGHT, MOST_WEIGHT] = [1e-100, 1e100];

function requireSquares(weights: Float64Array): void {
  const row = weights.findIndex((value) => value !== 0 && (value < LEAST_WEIGHT || value > MOST_WEIGHT));
  if (row < 0) return;
  throw new ArgumentError(
    `row ${row + 1}, weight: must be 0 or from ${LEAST_WEIGHT} to ${MOST_WEIGHT}; multiply all sampling weights by one number`,
  );
}

/** How many different units the rows of the groups belong to. */
export function unitsSeen(observations: Observations, units: Units, groups: readonly number[]): number {
  const seen = new Uint8Array(units.count);
  const wanted = new Set(groups);
  const { codes } = observations.group;
  for (let row = 0; row < observations.rows; row++) {
    if (wanted.has(codes[row] ?? -1)) seen[units.codes?.[row] ?? row] = 1;
  }
  return seen.reduce((sum, one) => sum + one, 0);
}

/** Share of a group's rows, or of their weight, that each unit holds. */
export function unitShares(observations: Observations, units: Units, group: number): Float64Array {
  const shares = new Float64Array(units.count);
  let all = 0;
  for (let row = 0; row < observations.rows; row++) {
    if (observations.group.codes[row] !== group) continue;
    const weight = observations.weight?.values[row] ?? 1;
    shares[units.codes?.[row] ?? row]! += weight;
    all += weight;
  }
  return all > 0 ? shares.map((weight) => weight / all) : shares;
}

function denseCodes(ids: Int32Array): { codes: Int32Array; count: number } {
  const known = new Map<number, number>();
  const codes = ids.map((id) => {
    const code = known.get(id) ?? known.size;
    known.set(id, code);
    return code;
  });
  return { codes, count: known.size };
}
