import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { contentHash } from "./content-hash.ts";
import { ArgumentError } from "./errors.ts";

/** A sequence of random numbers that depends on a seed and a name alone. */
export interface RandomStream {
  readonly name: string;
  /** Next number, evenly spread over [0, 1). */
  uniform(): number;
  /** Next whole number from 0 to below `limit`. */
  below(limit: number): number;
}

/**
 * Named random streams of one seed.
 *
 * Each use has a stream of its own, so that adding a draw in one place changes nothing elsewhere.
 *
 * @example
 * const first = randomStreams(7).stream("draws").uniform();
 * first === randomStreams(7).stream("draws").uniform(); // true
 */
export function randomStreams(seed: number): { stream(name: string): RandomStream } {
  if (!Number.isSafeInteger(seed) || seed < 0) {
    throw new ArgumentError(`randomStreams: seed must be a whole number from 0 up; received ${seed}`);
  }
  return { stream: (name) => namedStream(seed, name) };
}

function namedStream(seed: number, name: string): RandomStream {
  // The generator takes 32 bits: the hash keeps streams of neighbouring seeds and names apart.
  const start = Number.parseInt(contentHash(`${seed}:${name}`).slice(0, 8), 16) | 0;
  const generator = xoroshiro128plus(start);
  const uniform = () => uniformFloat64(generator);
  return { name, uniform, below: (limit) => Math.floor(uniform() * limit) };
}
