import type { TimeUnit } from "../base/time-unit.ts";
import type { WeightKind } from "./observations.ts";

/**
 * Counts of one group in one stratum at each tick at which anything happened, ascending.
 *
 * On one tick entries come last, events first, censorings after events: `atRisk` at a tick counts those who
 * entered before it and have not left before it.
 */
export interface CountsCell {
  readonly group: number;
  readonly stratum: number;
  /** Cases, not rows: pieces of one case count once, copies as often as they stand for a case. */
  readonly cases: number;
  readonly time: Int32Array;
  readonly atRisk: Float64Array;
  /** Per cause, in the order of `causes`. */
  readonly events: readonly Float64Array[];
  readonly censored: Float64Array;
  readonly entered: Float64Array;
  /** Present with weights; then the arrays above still count rows. */
  readonly weighted?: {
    readonly atRisk: Float64Array;
    readonly events: readonly Float64Array[];
    readonly censored: Float64Array;
  };
  /** Ticks under observation added over rows (weighted where weights are copies). */
  readonly ticksAtRisk: number;
}

/** Everything that unclustered curves, incidence, tests and rates need. Cells run over groups, then strata. */
export interface CountsByTime {
  readonly kind: "countsByTime";
  readonly timeUnit: TimeUnit;
  readonly causes: readonly string[];
  readonly groups: readonly string[];
  readonly strata: readonly string[];
  readonly delayedEntry: boolean;
  readonly weightKind?: WeightKind;
  readonly cells: readonly CountsCell[];
}
