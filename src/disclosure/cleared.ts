import type { TimeUnit } from "../base/time-unit.ts";
import type { Audience } from "./audience.ts";
import type { LineSubject, TablePicture } from "./exhibit.ts";
import type { HeldName } from "./held/held-report.ts";
import type { ToldCounts } from "./held/told-counts.ts";

declare const clearedBrand: unique symbol;

/** A value that passed disclosure control for its audience. Renderers accept nothing else. */
export type Cleared<Value> = Value & { readonly [clearedBrand]: true };

/** A cell as readers see it. */
export interface ClearedCell {
  readonly text: string;
  /** The printed numbers, in order; for analysts with 12 significant digits. Empty for text and hidden cells. */
  readonly values: readonly number[];
  readonly hidden: boolean;
  /** Size of the whole steps in which the numbers are printed, because a neighbouring count is small. */
  readonly coarse?: number;
  /** Taken over from a report that the readers hold: since then a count behind it has changed by a small number. */
  readonly asBefore?: true;
}

export interface ClearedTable {
  readonly kind: "table";
  readonly id: string;
  readonly title: string;
  readonly columns: readonly {
    readonly id: string;
    readonly label: string;
    readonly align: "start" | "end";
  }[];
  readonly rows: readonly {
    readonly label: string;
    readonly heading: boolean;
    readonly indent: number;
    readonly style?: number;
    readonly cells: readonly ClearedCell[];
  }[];
  readonly notes: readonly string[];
  readonly settings: Readonly<Record<string, unknown>>;
  readonly picture?: TablePicture;
}

/** How a line is drawn: as it was estimated, or as points with straight lines between them. */
export type CurveDrawing = "steps" | "joined points";
export const CURVE_DRAWINGS = ["steps", "joined points"] as const satisfies readonly CurveDrawing[];

/** A drawable curve: steps already merged, rounded and cut. */
export interface ClearedCurve {
  readonly label: string;
  readonly style: number;
  /**
   * Steps: step k holds from time[k] to time[k + 1], the last to drawnTo. Joined points: value k is right at time[k],
   * and where nothing rises to the next point, up to there. The first is at 0 with value 0.
   */
  readonly time: readonly number[];
  readonly value: readonly number[];
  readonly low: readonly (number | null)[];
  readonly high: readonly (number | null)[];
  readonly drawnTo: number;
  /** Taken over from a report that the readers hold. */
  readonly asBefore?: true;
}

/** One line of the table under a curve: parallel to `years`. */
export interface ClearedLandmarks {
  readonly label: string;
  readonly style: number;
  readonly atRisk: readonly ClearedCell[];
  /** Cumulative. */
  readonly events: readonly ClearedCell[];
  /** Cumulative; competing outcomes apart where the exhibit has them. */
  readonly censored: readonly ClearedCell[];
  readonly competing?: readonly ClearedCell[];
}

export interface ClearedCurves {
  readonly kind: "curves";
  readonly id: string;
  readonly title: string;
  readonly question: string;
  readonly risk: "net" | "crude";
  readonly valueLabel: string;
  readonly eventWord: string;
  readonly unitWord: string;
  readonly timeUnit: TimeUnit;
  readonly years: readonly number[];
  /** "joined points" where steps were merged: between two points the line is only a guide. */
  readonly drawing: CurveDrawing;
  readonly curves: readonly ClearedCurve[];
  readonly landmarks: readonly ClearedLandmarks[];
  readonly notes: readonly string[];
  readonly settings: Readonly<Record<string, unknown>>;
}

export interface ClearedFlow {
  readonly kind: "flow";
  readonly id: string;
  readonly title: string;
  readonly unitWord: string;
  readonly personWord: string;
  readonly boxes: readonly {
    readonly label: string;
    readonly units: ClearedCell;
    readonly persons?: ClearedCell;
    readonly removed: readonly {
      readonly label: string;
      readonly units: ClearedCell;
      readonly persons?: ClearedCell;
    }[];
  }[];
  readonly groups: readonly {
    readonly label: string;
    readonly units: ClearedCell;
    readonly persons?: ClearedCell;
  }[];
  readonly notes: readonly string[];
}

/** Lines of any measure; for analysts alone. */
export interface ClearedLines {
  readonly kind: "lines";
  readonly id: string;
  readonly title: string;
  readonly question: string;
  readonly across: string;
  readonly acrossFrom?: number;
  readonly up: string;
  readonly scale: "amount" | "ratio";
  readonly of?: LineSubject;
  readonly drawing: CurveDrawing;
  readonly lines: readonly {
    readonly label: string;
    readonly style: number;
    readonly pieces: boolean;
    readonly thin: boolean;
    readonly share: boolean;
    readonly x: readonly number[];
    readonly y: readonly number[];
    /** Empty where the line has no limits. */
    readonly low: readonly (number | null)[];
    readonly high: readonly (number | null)[];
  }[];
  readonly notes: readonly string[];
  readonly settings: Readonly<Record<string, unknown>>;
}

export type ClearedExhibit = ClearedTable | ClearedCurves | ClearedFlow | ClearedLines;

/** One line of what was hidden and why, counts only. */
export interface DisclosureAct {
  /** Its id. */
  readonly exhibit: string;
  readonly title: string;
  readonly act: string;
  readonly cells: number;
}

/** All exhibits of a report after one pass over the whole of it. */
export interface ClearedExhibits {
  readonly audience: Audience;
  readonly threshold: number;
  readonly exhibits: readonly Cleared<ClearedExhibit>[];
  readonly log: readonly DisclosureAct[];
  /** Reports that the readers hold, taken into account in the order in which they were named. */
  readonly held: readonly HeldName[];
  /** What readers know of every count; undefined for analysts, who see them all. */
  readonly told?: ToldCounts;
}
