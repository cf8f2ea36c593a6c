import { randomStreams } from "../../src/base/random-streams.ts";

export interface RowShape {
  readonly rows: number;
  readonly groups: number;
  readonly strata: number;
  readonly causes: number;
  readonly entries: boolean;
  readonly clusters?: number;
  /** Last tick that can be drawn. Few ticks mean many ties. */
  readonly lastTick?: number;
}

/** Invented rows with ties, empty places and late entries: the same for the same seed. */
export function rowsOf(seed: number, shape: RowShape) {
  const { rows, groups, strata, causes, entries, clusters = 5, lastTick = 40 } = shape;
  const stream = randomStreams(seed).stream("some-rows");
  const draw = (limit: number) => Array.from({ length: rows }, () => stream.below(limit));
  const labels = (word: string, count: number) =>
    Array.from({ length: count }, (_, code) => `${word} ${code + 1}`);
  const entry = draw(10).map((tick) => tick - 1);
  const stay = draw(lastTick);
  return {
    exit: entries ? entry.map((tick, row) => tick + 1 + (stay[row] ?? 0)) : stay,
    event: draw(causes + 1),
    ...(entries && { entry }),
    group: { codes: draw(groups), labels: labels("group", groups) },
    stratum: { codes: draw(strata), labels: labels("stratum", strata) },
    cluster: { codes: draw(clusters), word: "surgeon" },
    causes: labels("cause", causes),
  };
}
