import { randomStreams } from "../../src/base/random-streams.ts";
import { type CoxExample, matrixOf } from "./cox-examples.ts";

const ROWS = 40;

/** Forty invented rows with many ties, some late entries, two strata, and two covariates that matter. */
export function drawnExample(
  seed: number,
  { weighted = false, clustered = false }: { readonly weighted?: boolean; readonly clustered?: boolean },
): CoxExample {
  const stream = randomStreams(seed).stream("hazard model");
  const draw = <Value>(make: (row: number) => Value) => Array.from({ length: ROWS }, (_, row) => make(row));
  const x = draw(() => (stream.uniform() < 0.5 ? 1 : 0));
  const z = draw(() => stream.uniform() * 2 - 1);
  const exit = draw((row) => {
    const hazard = 0.12 * Math.exp(0.6 * (x[row] ?? 0) - 0.8 * (z[row] ?? 0));
    return 1 + Math.min(12, Math.floor(-Math.log(1 - stream.uniform()) / hazard));
  });
  return {
    columns: {
      exit,
      event: draw(() => (stream.uniform() < 0.8 ? 1 : 0)),
      entry: draw((row) => (stream.uniform() < 0.3 ? stream.below(exit[row] ?? 1) : -1)),
      stratum: { codes: draw(() => stream.below(2)), labels: ["north", "south"] },
      ...(weighted && { weight: { kind: "sampling", values: draw(() => 0.5 + stream.uniform()) } }),
      ...(clustered && { cluster: { codes: draw(() => stream.below(12)), word: "ward" } }),
    },
    matrix: matrixOf({ x, z }),
  };
}
