import type { ClearedLines } from "../disclosure/cleared.ts";
import { FIGURE_WIDTH, FONT_SIZE, LABEL_GAP, labelLines } from "./curve-layout.ts";
import { type LineAxis, lineAxis } from "./line-axis.ts";
import { boldWidth } from "./text-width.ts";
import { valueAxis } from "./value-axis.ts";

export type Line = ClearedLines["lines"][number];

export interface LineLayout {
  readonly width: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly acrossFrom: number;
  readonly acrossEnd: number;
  readonly acrossTicks: readonly number[];
  readonly up: LineAxis;
  x(across: number): number;
  /** The value where it stands on the axis: cut at its ends, and its logarithm for ratios. */
  height(value: number): number;
  y(value: number): number;
}

const [LEFT, TOP, PLOT_HEIGHT] = [60, 34, 260];

/** Lines that have a point: the others are named in the note beneath. None where all end where the axis begins. */
export function drawableLines({ lines, acrossFrom = 0 }: ClearedLines): readonly Line[] {
  const drawn = lines.filter(({ x }) => x.length > 0);
  return drawn.some(({ x }) => (x.at(-1) ?? acrossFrom) > acrossFrom) ? drawn : [];
}

/** Where everything stands: the names of the lines decide how much room is left for the plot. */
export function lineLayout(exhibit: ClearedLines): LineLayout {
  const lines = drawableLines(exhibit);
  const { acrossFrom = 0 } = exhibit;
  const acrossEnd = Math.max(...lines.map(({ x }) => x.at(-1) ?? acrossFrom));
  const part = (across: number) => (across - acrossFrom) / (acrossEnd - acrossFrom);
  const right = Math.min(
    FIGURE_WIDTH - 24,
    ...lines.map((line) => rightFor(line.label, part(line.x.at(-1) ?? acrossEnd))),
  );
  const up = lineAxis(exhibit);
  const bottom = TOP + PLOT_HEIGHT;
  const height = (value: number) => {
    const within = onAxis(value, up);
    return exhibit.scale === "ratio" ? Math.log(within) : within;
  };
  const [from, to] = [height(up.from), height(up.to)];
  return {
    width: FIGURE_WIDTH,
    left: LEFT,
    right,
    top: TOP,
    bottom,
    acrossFrom,
    acrossEnd,
    acrossTicks: wholeTicks(acrossFrom, acrossEnd),
    up,
    x: (across) => LEFT + part(across) * (right - LEFT),
    height,
    y: (value) => bottom - ((height(value) - from) / (to - from)) * PLOT_HEIGHT,
  };
}

/** The value, or the end of the axis beyond which it lies. */
function onAxis(value: number, { from, to }: LineAxis): number {
  return Math.min(to, Math.max(from, value));
}

/** Whole numbers, at most some ten of them; parts of a year only where there is no whole one. */
function wholeTicks(from: number, end: number): readonly number[] {
  if (from === 0 && end < 1) return valueAxis(end, end, end).ticks.filter((tick) => tick <= end);
  const step = [1, 2, 5, 10, 20, 50].find((one) => (end - from) / one <= 10) ?? 100;
  const first = Math.ceil(from / step);
  return Array.from({ length: Math.floor(end / step) - first + 1 }, (_, at) => (first + at) * step);
}

/** `part`: how far across the axis the line ends. */
function rightFor(label: string, part: number): number {
  const words = Math.max(0, ...labelLines(label).map((line) => boldWidth(line, FONT_SIZE)));
  return LEFT + (FIGURE_WIDTH - LABEL_GAP - words - LEFT) / (part || 1);
}
