import type { Audience } from "../audience.ts";
import type { ClearedCell, ClearedCurve, CurveDrawing } from "../cleared.ts";
import type { ToldCounts } from "./told-counts.ts";

/** What is looked up in a report that was given out before: cells by their place, lines by their label. */
export type HeldExhibit =
  | {
      readonly kind: "table";
      readonly id: string;
      readonly columns: readonly { readonly id: string; readonly label: string }[];
      readonly rows: readonly {
        readonly label: string;
        readonly heading: boolean;
        readonly indent: number;
        readonly cells: readonly ClearedCell[];
      }[];
    }
  | {
      readonly kind: "curves";
      readonly id: string;
      readonly timeUnit: { readonly perYear: number };
      readonly years: readonly number[];
      readonly drawing: CurveDrawing;
      readonly curves: readonly ClearedCurve[];
      readonly landmarks: readonly HeldLandmarks[];
    }
  | {
      readonly kind: "flow";
      readonly id: string;
      readonly boxes: readonly (HeldSize & { readonly removed: readonly HeldSize[] })[];
      readonly groups: readonly HeldSize[];
    }
  | { readonly kind: "lines"; readonly id: string };

export interface HeldLandmarks {
  readonly label: string;
  readonly atRisk: readonly ClearedCell[];
  readonly events: readonly ClearedCell[];
  readonly censored: readonly ClearedCell[];
  readonly competing?: readonly ClearedCell[];
}

export interface HeldSize {
  readonly label: string;
  readonly units: ClearedCell;
  readonly persons?: ClearedCell;
}

/** Which report it is, without a place on any machine. */
export interface HeldName {
  readonly id: string;
  readonly audience: Audience;
  /** SHA-256 of its results.json. */
  readonly hash: string;
}

/** A report that the readers of the next one hold already: another plan, another data cut, or another copy. */
export interface HeldReport extends HeldName {
  readonly threshold: number;
  /** The same text in two reports whose numbers of one name and place are numbers of one thing; left out where none can be. */
  readonly definition?: string;
  readonly told: ToldCounts;
  readonly exhibits: readonly HeldExhibit[];
}
