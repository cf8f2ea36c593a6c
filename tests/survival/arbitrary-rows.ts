import fc from "fast-check";
import type { ObservationColumns } from "../../src/survival/observations.ts";

/** One row as a property test draws it. Few ticks, so that ties abound. */
export interface DrawnRow {
  readonly entry: number;
  readonly exit: number;
  readonly event: number;
  readonly group: number;
  readonly stratum: number;
  readonly weight: number;
}

const row: fc.Arbitrary<DrawnRow> = fc
  .record({
    entry: fc.integer({ min: -1, max: 8 }),
    stay: fc.integer({ min: 1, max: 12 }),
    event: fc.integer({ min: 0, max: 1 }),
    group: fc.integer({ min: 0, max: 2 }),
    stratum: fc.integer({ min: 0, max: 1 }),
    weight: fc.integer({ min: 0, max: 3 }),
  })
  .map(({ entry, stay, ...rest }) => ({ entry, exit: entry + stay, ...rest }));

export const drawnRows = fc.array(row, { minLength: 1, maxLength: 24 });

/** Runs of fast-check: fixed, so that a failure comes back. */
export const RUNS = { seed: 20260101, numRuns: 80 } as const;

export function columnsOf(rows: readonly DrawnRow[], weights?: "copies" | "sampling"): ObservationColumns {
  return {
    entry: rows.map(({ entry }) => entry),
    exit: rows.map(({ exit }) => exit),
    event: rows.map(({ event }) => event),
    group: { codes: rows.map(({ group }) => group), labels: ["a", "b", "c"] },
    stratum: { codes: rows.map(({ stratum }) => stratum), labels: ["x", "y"] },
    ...(weights && { weight: { kind: weights, values: rows.map(({ weight }) => weight) } }),
  };
}

/** The same rows in another order, told by a drawn key for each. */
export function reordered<Row>(rows: readonly Row[], keys: readonly number[]): Row[] {
  return rows
    .map((one, at) => ({ one, key: keys[at % keys.length] ?? 0 }))
    .sort((a, b) => a.key - b.key)
    .map(({ one }) => one);
}
