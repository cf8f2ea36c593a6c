import { type RandomStream, randomStreams } from "../base/random-streams.ts";

/** The named streams of one seed. */
export type RandomStreams = ReturnType<typeof randomStreams>;

/** Streams of which each name is given out once: a name used twice would tie two draws together unseen. */
export function streamsUsedOnce(seed: number): RandomStreams {
  const streams = randomStreams(seed);
  const used = new Set<string>();
  return {
    stream(name) {
      if (used.has(name)) throw new Error(`stream "${name}" is already in use`);
      used.add(name);
      return streams.stream(name);
    },
  };
}

/**
 * Standard normal numbers from one stream.
 *
 * Marsaglia's polar method: logarithm and square root only. Sines and cosines differ in the last digit
 * between versions of the engine.
 */
export function normalDraws(stream: RandomStream): () => number {
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const across = 2 * stream.uniform() - 1;
      const up = 2 * stream.uniform() - 1;
      const square = across * across + up * up;
      if (square >= 1 || square === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      spare = up * scale;
      return across * scale;
    }
  };
}

/** Standard exponential numbers from one stream. */
export function exponentialDraws(stream: RandomStream): () => number {
  return () => -Math.log(1 - stream.uniform());
}

/** Places 0, 1, … drawn with the given relative shares. */
export function shareDraws(stream: RandomStream, shares: readonly number[]): () => number {
  const limits = runningShares(shares);
  return () => placeAt(limits, stream.uniform());
}

/** Running sums of the shares, divided by their total. */
export function runningShares(shares: ArrayLike<number>): Float64Array {
  const limits = new Float64Array(shares.length);
  let total = 0;
  for (let place = 0; place < shares.length; place++) {
    total += shares[place] ?? 0;
    limits[place] = total;
  }
  return limits.map((limit) => limit / total);
}

/** First place whose running share exceeds u; by halving, for lists of thousands of surgeons. */
export function placeAt(limits: Float64Array, u: number): number {
  let low = 0;
  let high = limits.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (u < (limits[middle] ?? 1)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Fills a column row by row. Typed arrays' own `from` reads an iterator for each row, which a million rows notice. */
export function filled<Numbers extends Uint8Array | Uint16Array | Int32Array | Float64Array>(
  column: Numbers,
  value: (row: number) => number,
): Numbers {
  for (let row = 0; row < column.length; row++) column[row] = value(row);
  return column;
}
