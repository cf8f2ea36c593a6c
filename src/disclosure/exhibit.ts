import type { TimeUnit } from "../base/time-unit.ts";

/**
 * What a section wants to show, before disclosure control.
 *
 * Exhibits are plain tables, curves and flows. Every number in them names the counts it rests on, so that one
 * report-wide pass can hide a count wherever it appears, and whatever would give it back.
 */
export type Exhibit = TableExhibit | CurveExhibit | FlowExhibit | AnalystExhibits;

/**
 * What analysts alone see, made only when they are the readers. Its numbers need not say what they rest on: what they
 * tell about counts was not worked out. For everybody else it is left out, and the log names it.
 */
export interface AnalystExhibits {
  readonly kind: "for analysts";
  readonly id: string;
  /** In the log, where the rest is not shown. */
  readonly title: string;
  readonly exhibits: () => readonly (TableExhibit | LineExhibit)[];
}

/** A number of units (and of the persons who own them). The same quantity has the same key in every exhibit. */
export interface Count {
  /**
   * "events/loosening/tourniquet/to:5": parts joined by "/", labels made safe by `keyPart`, no patient-level
   * value.
   *
   * "X/to:5" is the count of X up to year 5, "X" the one over all follow-up: disclosure control looks at what
   * happened between them. "group/tourniquet" is the size of a group.
   */
  readonly key: string;
  readonly units: number;
  /** The threshold applies to the smaller of units and persons. */
  readonly persons?: number;
  /** Given up last where one of several counts must go, such as the size of a group that the report is about. */
  readonly keep?: true;
}

/** Of every exhibit but those for analysts. */
interface Lending {
  /**
   * Never given as in a report that the readers hold: the plan does not say what its numbers are of, or words beside them are
   * read off the numbers of now.
   */
  readonly fresh?: true;
}

/** total = sum of parts: a single hidden part could be had by subtraction. */
export interface Relation {
  readonly total: Count;
  readonly parts: readonly Count[];
}

export type Cell =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "count"; readonly count: Count }
  /** Part of a whole: "12 (3.4 %)". */
  | { readonly kind: "share"; readonly part: Count; readonly whole: Count }
  /** A number that is not a count. `text` is its printed form; `value` the full one. */
  | {
      readonly kind: "number";
      readonly value: number;
      readonly decimals: number;
      readonly suffix?: string;
      readonly restsOn: readonly Count[];
    }
  /** Mean (standard deviation), median (quartile to quartile), estimate (limits): several numbers, one form. */
  | {
      readonly kind: "numbers";
      /** "{0} ({1} to {2})": places for the numbers in order. */
      readonly form: string;
      readonly values: readonly number[];
      readonly decimals: number;
      /**
       * What one unit more of each of `restsOn` changes, in printed units; 0 where it changes nothing. Where the counts
       * themselves may be told and only a small neighbour speaks against it, estimate and limits are then printed widened,
       * not hidden.
       */
      readonly oneMoreChanges?: readonly number[];
      /**
       * Print steps of several events where readers cannot tell between which numbers a hidden count lies. Give it for one kind
       * of estimate of a count alone: two roundings narrow each other, which two that hold for the same numbers do not.
       */
      readonly inSteps?: true;
      readonly restsOn: readonly Count[];
    }
  | { readonly kind: "pValue"; readonly p: number; readonly restsOn: readonly Count[] }
  /** A statistic shown only to analysts: observed, expected, standard errors, test statistics. */
  | { readonly kind: "statistic"; readonly value: number; readonly restsOn: readonly Count[] }
  /** No answer, and why. Hidden like a number where the reason tells of counts. */
  | { readonly kind: "none"; readonly because: string; readonly restsOn?: readonly Count[] };

export interface TableRow {
  readonly label: string;
  /** A heading inside the table: no cells. */
  readonly heading?: boolean;
  readonly indent?: number;
  /** Place of the group that the row is about: fixes its look in a picture of the table. */
  readonly style?: number;
  readonly cells: readonly Cell[];
}

/**
 * "ratios": every cell of estimate and limits as a mark on a logarithmic axis with a line at 1. "differences": the
 * columns whose id begins with "apart" as marks around a line at 0. "shares": percentages as a grid of shaded boxes.
 * "bars": percentages as bars, columns named "group-0", … in the colours of the groups. "amounts": the last cell of every
 * row with a `style` as a mark with limits, from 0. "stacks": the columns named "part-0", … of every such row on top of each
 * other.
 */
export type TablePicture = "ratios" | "differences" | "shares" | "bars" | "amounts" | "stacks";

export interface TableExhibit extends Lending {
  readonly kind: "table";
  readonly id: string;
  readonly title: string;
  /** First is the row label's heading. */
  readonly columns: readonly {
    readonly id: string;
    readonly label: string;
    readonly align?: "start" | "end";
  }[];
  readonly rows: readonly TableRow[];
  readonly notes?: readonly string[];
  readonly relations?: readonly Relation[];
  /** Method and settings in force; goes to results.json. */
  readonly settings?: Readonly<Record<string, unknown>>;
  /** Drawn beside the table. */
  readonly picture?: TablePicture;
}

/** One step curve, going up from 0. Parallel arrays over the ticks at which anything happened. */
export interface ExhibitCurve {
  readonly label: string;
  /** Place of the group in the study: fixes line style and colour on every page. */
  readonly style: number;
  /** Event and group, as in the keys of its counts, each made safe by `keyPart`: "loosening/tourniquet". */
  readonly key: string;
  readonly units: number;
  readonly time: readonly number[];
  readonly value: readonly number[];
  readonly low: readonly (number | null)[];
  readonly high: readonly (number | null)[];
  readonly atRisk: readonly number[];
  readonly eventsAt: readonly number[];
  readonly censoredAt: readonly number[];
  /** Events that end follow-up without being the curve's own. */
  readonly competingAt?: readonly number[];
  /** Last tick drawn; undefined where the group is too small for a curve. */
  readonly drawnTo?: number;
}

export interface CurveExhibit extends Lending {
  readonly kind: "curves";
  readonly id: string;
  readonly title: string;
  /** The question this curve answers, in words. */
  readonly question: string;
  readonly risk: "net" | "crude";
  readonly valueLabel: string;
  /** "revisions": the event in the plural, for the table beneath. */
  readonly eventWord: string;
  readonly unitWord: string;
  readonly timeUnit: TimeUnit;
  /** Years at which the table beneath stands. */
  readonly years: readonly number[];
  readonly curves: readonly ExhibitCurve[];
  readonly notes?: readonly string[];
  readonly settings?: Readonly<Record<string, unknown>>;
}

export interface FlowBox {
  readonly label: string;
  readonly units: Count;
  readonly persons?: Count;
  /** Taken out on the way to the next box. */
  readonly removed?: readonly { readonly label: string; readonly units: Count; readonly persons?: Count }[];
}

export interface FlowExhibit extends Lending {
  readonly kind: "flow";
  readonly id: string;
  readonly title: string;
  readonly unitWord: string;
  readonly personWord: string;
  readonly boxes: readonly FlowBox[];
  /** The last box divided into these. */
  readonly groups: readonly { readonly label: string; readonly units: Count; readonly persons?: Count }[];
  readonly notes?: readonly string[];
}

/** One line through computed points, with its limits. Parallel arrays. */
export interface ExhibitLine {
  readonly label: string;
  /** Place among what the lines are of: fixes line style and colour on every page. */
  readonly style: number;
  /** Each two points are a piece of its own, its limits a whisker in its middle. */
  readonly pieces?: true;
  /** Drawn thin: a bound or a companion of another line. */
  readonly thin?: true;
  /** Low and high are the edges of a share of the whole, not an interval: filled, and the next share stands on it. */
  readonly share?: true;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly low?: readonly (number | null)[];
  readonly high?: readonly (number | null)[];
}

export type LineSubject = "groups" | "comparisons" | "outcomes";

/** Lines of any measure over time, in `AnalystExhibits` alone. */
export interface LineExhibit {
  readonly kind: "lines";
  readonly id: string;
  readonly title: string;
  /** The question these lines answer, in words. */
  readonly question: string;
  readonly across: string;
  /** Where the axis across begins. Default 0. */
  readonly acrossFrom?: number;
  readonly up: string;
  /** "ratio": a logarithmic axis with a line at 1. "amount": from 0. */
  readonly scale: "amount" | "ratio";
  /** What a line stands for: each kind has styles of its own, so that none is taken for a group. Default "groups". */
  readonly of?: LineSubject;
  /** "steps": each value holds up to the next point. "joined points": straight lines between. */
  readonly drawing: "steps" | "joined points";
  readonly lines: readonly ExhibitLine[];
  readonly notes?: readonly string[];
  readonly settings?: Readonly<Record<string, unknown>>;
}
