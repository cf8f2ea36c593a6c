import type { rowsOf } from "./some-rows.ts";

export type NaiveRows = ReturnType<typeof rowsOf> & {
  readonly weight?: { readonly values: readonly number[] };
};

/** Score and its variance over clusters from the definition: every row against every event tick of its stratum. */
export function naiveScore(
  columns: NaiveRows,
  groups: number,
  wanted: number,
  weightOf: (atRisk: number) => number = () => 1,
) {
  const all = columns.exit.map((exit, row) => ({
    exit,
    entry: columns.entry?.[row] ?? -1,
    event: columns.event[row] === wanted,
    group: columns.group.codes[row] ?? 0,
    stratum: columns.stratum.codes[row] ?? 0,
    cluster: columns.cluster.codes[row] ?? 0,
    weight: columns.weight?.values[row] ?? 1,
  }));
  const total = (rows: typeof all) => rows.reduce((sum, row) => sum + row.weight, 0);
  const score = new Array<number>(groups).fill(0);
  const clusters = new Map<number, number[]>();
  for (const row of all) {
    const share = clusters.get(row.cluster) ?? new Array<number>(groups).fill(0);
    clusters.set(row.cluster, share);
    const stratum = all.filter((other) => other.stratum === row.stratum);
    const ticks = new Set(stratum.filter((other) => other.event).map((other) => other.exit));
    for (const tick of ticks) {
      if (row.entry >= tick || row.exit < tick) continue;
      const atRisk = stratum.filter((other) => other.entry < tick && other.exit >= tick);
      const hazard = total(atRisk.filter((other) => other.event && other.exit === tick)) / total(atRisk);
      const own = (row.event && row.exit === tick ? 1 : 0) - hazard;
      for (let group = 0; group < groups; group++) {
        const expected = total(atRisk.filter((other) => other.group === group)) / total(atRisk);
        const part = weightOf(total(atRisk)) * row.weight * ((row.group === group ? 1 : 0) - expected) * own;
        share[group] = (share[group] ?? 0) + part;
        score[group] = (score[group] ?? 0) + part;
      }
    }
  }
  const variance = (a: number, b: number) =>
    [...clusters.values()].reduce((sum, share) => sum + (share[a] ?? 0) * (share[b] ?? 0), 0);
  return { score, variance };
}
