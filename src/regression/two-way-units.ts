import { ArgumentError } from "../base/errors.ts";
import type { Clusters } from "../survival/observations.ts";
import type { Units } from "../survival/units.ts";

/** Units of a second clustering of the same rows. */
export function secondUnits(second: Clusters, first: Units, rows: number): Units {
  if (second.codes.length !== rows) {
    throw new ArgumentError(
      `secondCluster has ${second.codes.length} codes and the observations ${rows} rows; every row needs one`,
    );
  }
  const codes = new Int32Array(rows);
  const known = new Map<number, number>();
  for (let row = 0; row < rows; row += 1) {
    const code = second.codes[row]!;
    if (!Number.isSafeInteger(code) || code < 0) {
      throw new ArgumentError(`row ${row + 1}, secondCluster: must be a whole number from 0 up`);
    }
    codes[row] = denseCode(known, code);
  }
  return { word: second.word, codes, count: known.size, factor: first.factor };
}

/** Units that share both clusters. */
export function crossedUnits(first: Units, second: Units): Units {
  const known = new Map<number, number>();
  const codes = Int32Array.from(second.codes ?? [], (code, row) =>
    denseCode(known, (first.codes?.[row] ?? row) * second.count + code),
  );
  return { word: null, codes, count: known.size, factor: first.factor };
}

function denseCode(known: Map<number, number>, code: number): number {
  const dense = known.get(code) ?? known.size;
  known.set(code, dense);
  return dense;
}
