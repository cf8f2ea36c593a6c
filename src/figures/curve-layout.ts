import { yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurve, ClearedCurves } from "../disclosure/cleared.ts";
import { shareScale } from "../disclosure/read-curve.ts";
import { landmarkMeasures } from "./landmark-measures.ts";
import { boldWidth, textWidth, wrapText } from "./text-width.ts";
import { type ValueAxis, valueAxis } from "./value-axis.ts";

export const FIGURE_WIDTH = 760;
export const FONT_SIZE = 12.5;
/** Sizes for the numbers beneath, the usual one first. */
const NUMBER_SIZES = [FONT_SIZE, 12, 11.5, 11, 10.5] as const;
/** From one column of numbers to the next. */
const COLUMN_GAP = 4;
/** Where even small numbers would touch, a column may stand this far to the right of its tick. */
const MOST_SHIFT = 10;
export const LINE_HEIGHT = 16;
/** Line sample and the gap after it, before a group's name under the plot. */
export const SAMPLE_WIDTH = 30;

/** From the end of a curve to its name. */
export const LABEL_GAP = 9;

const PLOT_HEIGHT = 280;
const MOST_LABEL_WIDTH = 150;
/** Never a shorter axis than 1 %: noise near zero must not fill the frame. */
const LEAST_SHARE = 0.01;
/** How far, as a part of the axis, it may run past the last curve to end at a year of the table. */
const ROOM_TO_NEXT_YEAR = 0.2;

/** A year of the table, with its place in `exhibit.years`. */
export interface YearTick {
  readonly year: number;
  readonly at: number;
}

/** A column of numbers, in the middle under its tick unless its neighbour needs the room. */
export interface NumberColumn extends YearTick {
  readonly x: number;
}

export interface CurveLayout {
  readonly width: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly yearsEnd: number;
  readonly ticks: readonly YearTick[];
  /**
   * The columns of numbers under the ticks: every tick has one, unless the numbers would touch however small. Numbers at
   * risk with events and censorings so far, group by group: Morris TP et al., BMJ Open 2019;9:e030215.
   */
  readonly columns: readonly NumberColumn[];
  /** Size of the letters of those numbers: smaller where a year would else stand without its column. */
  readonly numberSize: number;
  readonly values: ValueAxis;
  x(years: number): number;
  y(share: number): number;
}

/** Curves that show something: a group without one has numbers beneath, and a sentence. */
export function drawableCurves(exhibit: Cleared<ClearedCurves>): readonly ClearedCurve[] {
  return exhibit.curves.filter((curve) => curve.drawnTo > 0 && curve.time.length > 0);
}

/** Where everything stands, from the widths of the words and the reach of the curves. */
export function curveLayout(exhibit: Cleared<ClearedCurves>): CurveLayout {
  const { factor } = shareScale(exhibit);
  const curves = drawableCurves(exhibit);
  const values = valueAxis(factor * largestShare(curves), factor * LEAST_SHARE, factor);
  const yearsEnd = endOfYears(exhibit, curves);
  const left = Math.max(60, ...leftWords(exhibit)) + columnWidth(exhibit, 0) / 2 + 6;
  const right = Math.min(
    FIGURE_WIDTH - 24,
    ...curves.map((curve) => rightFor(curve, left, yearsEnd, exhibit)),
  );
  const [top, bottom] = [34, 34 + PLOT_HEIGHT];
  const x = (years: number) => left + (years / yearsEnd) * (right - left);
  const y = (share: number) => bottom - ((factor * share) / values.limit) * PLOT_HEIGHT;
  const ticks = exhibit.years
    .map((year, at) => ({ year, at }))
    .filter(({ year }) => year >= 0 && year <= yearsEnd);
  const [numberSize, columns] = numberColumns(exhibit, ticks, x);
  return {
    width: FIGURE_WIDTH,
    left,
    right,
    top,
    bottom,
    yearsEnd,
    ticks,
    columns,
    numberSize,
    values,
    x,
    y,
  };
}

/** A group's name in the lines it takes up. */
export function labelLines(label: string): string[] {
  return wrapText(label, FONT_SIZE, MOST_LABEL_WIDTH);
}

/** Widths of the words at the head of each line of numbers. */
function leftWords(exhibit: Cleared<ClearedCurves>): number[] {
  const measures = exhibit.landmarks.flatMap((row) => landmarkMeasures(exhibit, row));
  return measures.map(({ label }) => textWidth(label, FONT_SIZE));
}

/** The right end of the plot that leaves room for a name after the end of its curve. */
function rightFor(
  curve: ClearedCurve,
  left: number,
  yearsEnd: number,
  exhibit: Cleared<ClearedCurves>,
): number {
  const part = yearsOfTicks(curve.drawnTo, exhibit.timeUnit) / yearsEnd;
  return left + (FIGURE_WIDTH - LABEL_GAP - labelWidth(curve.label) - left) / part;
}

function labelWidth(label: string): number {
  return Math.max(0, ...labelLines(label).map((line) => boldWidth(line, FONT_SIZE)));
}

/** The largest value or limit drawn: a loop, because curves of daily points are too long to be arguments. */
export function largestShare(curves: readonly ClearedCurve[]): number {
  let largest = 0;
  for (const curve of curves) {
    for (const [step, value] of curve.value.entries())
      largest = Math.max(largest, value, curve.high[step] ?? 0);
  }
  return largest;
}

function endOfYears(exhibit: Cleared<ClearedCurves>, curves: readonly ClearedCurve[]): number {
  const drawnTo = Math.max(0, ...curves.map((curve) => yearsOfTicks(curve.drawnTo, exhibit.timeUnit)));
  const next = exhibit.years.find((year) => year >= drawnTo);
  return next !== undefined && next - drawnTo <= ROOM_TO_NEXT_YEAR * next ? next : drawnTo;
}

/** The largest letters with which every tick has its column; then a small shift; else some go without. */
function numberColumns(
  exhibit: Cleared<ClearedCurves>,
  ticks: readonly YearTick[],
  x: (years: number) => number,
): [size: number, columns: NumberColumn[]] {
  const smallest = NUMBER_SIZES.at(-1) ?? FONT_SIZE;
  const tries = [...NUMBER_SIZES.map((size) => [size, 0] as const), [smallest, MOST_SHIFT] as const];
  for (const [size, shift] of tries) {
    const columns = columnsApart(exhibit, ticks, x, size, shift);
    if (columns.length === ticks.length) return [size, columns];
  }
  return [FONT_SIZE, columnsApart(exhibit, ticks, x, FONT_SIZE, 0)];
}

/** From the left, each tick whose numbers can stand clear of those already taken. */
function columnsApart(
  exhibit: Cleared<ClearedCurves>,
  ticks: readonly YearTick[],
  x: (years: number) => number,
  size: number,
  mostShift: number,
): NumberColumn[] {
  const columns: NumberColumn[] = [];
  let free = Number.NEGATIVE_INFINITY;
  for (const tick of ticks) {
    const half = columnWidth(exhibit, tick.at, size) / 2;
    const middle = Math.max(x(tick.year), free + half);
    if (middle - x(tick.year) > mostShift) continue;
    columns.push({ ...tick, x: middle });
    free = middle + half + COLUMN_GAP;
  }
  return columns;
}

function columnWidth(exhibit: Cleared<ClearedCurves>, at: number, size = FONT_SIZE): number {
  const cells = exhibit.landmarks.flatMap((row) => [
    row.atRisk,
    row.events,
    row.censored,
    row.competing ?? [],
  ]);
  return Math.max(0, ...cells.map((line) => textWidth(line[at]?.text ?? "", size)));
}
