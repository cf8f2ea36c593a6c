import type { TimeUnit } from "../base/time-unit.ts";

/** How weights are meant: the row repeated, or a share of a population that the row stands for. */
export const WEIGHT_KINDS = ["copies", "sampling"] as const;
export type WeightKind = (typeof WEIGHT_KINDS)[number];

/** A code per row with the label of each code. */
export interface LabelledCodes {
  /** Index into `labels`, one per row. */
  readonly codes: ArrayLike<number>;
  readonly labels: readonly string[];
}

/** Rows that are not independent share a cluster code. */
export interface Clusters {
  /** Any whole number from 0 up, one per row. */
  readonly codes: ArrayLike<number>;
  /** What a cluster is, in one word: "surgeon", "patient". Printed beside every clustered interval. */
  readonly word: string;
}

/** Follow-up as a caller writes it, one element a row. Only `exit` and `event` are required. */
export interface ObservationColumns {
  /** Last tick under observation. */
  readonly exit: ArrayLike<number>;
  /** 0 = censored at `exit`; k = the k-th cause happened there. */
  readonly event: ArrayLike<number>;
  /** At risk from after this tick; −1, or the column left out: from before tick 0. */
  readonly entry?: ArrayLike<number>;
  readonly weight?: { readonly kind: WeightKind; readonly values: ArrayLike<number> };
  readonly group?: LabelledCodes;
  readonly stratum?: LabelledCodes;
  readonly cluster?: Clusters;
  /** Rows of one case cut in pieces share an id; entries and censorings inside a case are not counted. */
  readonly caseId?: ArrayLike<number>;
  /** Names of causes 1, 2, …. Default one cause, "event". */
  readonly causes?: readonly string[];
  /** Default day. */
  readonly timeUnit?: TimeUnit;
}

/** Follow-up after `checkObservations`: typed, complete and consistent. Every estimator starts here. */
export interface Observations {
  readonly rows: number;
  readonly exit: Int32Array;
  readonly event: Uint8Array;
  readonly entry?: Int32Array;
  readonly weight?: { readonly kind: WeightKind; readonly values: Float64Array };
  readonly group: { readonly codes: Uint16Array; readonly labels: readonly string[] };
  readonly stratum: { readonly codes: Uint16Array; readonly labels: readonly string[] };
  readonly cluster?: { readonly codes: Int32Array; readonly count: number; readonly word: string };
  readonly caseId?: Int32Array;
  readonly causes: readonly string[];
  readonly timeUnit: TimeUnit;
}
