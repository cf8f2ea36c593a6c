import type { Cleared, ClearedCell, ClearedCurves, ClearedLandmarks } from "../disclosure/cleared.ts";

/** One line of numbers under a curve. */
export interface Measure {
  readonly label: string;
  readonly cells: readonly ClearedCell[];
}

/** The lines of numbers that stand under one group's name. */
export function landmarkMeasures(exhibit: Cleared<ClearedCurves>, row: ClearedLandmarks): Measure[] {
  return [
    { label: `${exhibit.unitWord} at risk`, cells: row.atRisk },
    { label: `${exhibit.eventWord} so far`, cells: row.events },
    ...(row.competing === undefined ? [] : [{ label: "other end so far", cells: row.competing }]),
    { label: "censored so far", cells: row.censored },
  ];
}
