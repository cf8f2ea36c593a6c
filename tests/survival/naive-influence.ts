import { incidenceOf, listOf } from "./naive-incidence.ts";
import type { rowsOf } from "./some-rows.ts";

type Rows = ReturnType<typeof rowsOf> & { readonly weight?: { readonly values: readonly number[] } };
type Listed = ReturnType<typeof listOf>;

const NUDGE = 1e-4;

/**
 * Influence of each row of a group on its incidence, by nudging the row's weight up and down: no formula is shared with the
 * code under test. Richardson's step takes out the second-order error.
 */
export function nudgedInfluence(rows: Listed, cause: number, tick: number): number[] {
  return rows.map((row) => {
    const slope = (nudge: number) => {
      const moved = (by: number) =>
        rows.map((other) => (other === row ? { ...row, weight: row.weight + by } : other));
      return (incidenceOf(moved(nudge), cause, tick) - incidenceOf(moved(-nudge), cause, tick)) / (2 * nudge);
    };
    return (4 * slope(NUDGE) - slope(2 * NUDGE)) / 3;
  });
}

/** Σ over clusters of (Σ weight × influence)²; several groups enter with their signs. */
export function nudgedVariance(
  columns: Rows,
  cause: string,
  tick: number,
  groups: readonly { readonly group: string; readonly sign: number }[],
): number {
  const sums = new Map<number, number>();
  for (const { group, sign } of groups) {
    const rows = listOf(columns, group);
    nudgedInfluence(rows, columns.causes.indexOf(cause) + 1, tick).forEach((influence, place) => {
      const { cluster = 0, weight = 1 } = rows[place] ?? {};
      sums.set(cluster, (sums.get(cluster) ?? 0) + sign * weight * influence);
    });
  }
  return [...sums.values()].reduce((sum, value) => sum + value * value, 0);
}
