import type { ClearedLines } from "../disclosure/cleared.ts";
import { drawableLines, type Line, type LineLayout } from "./line-layout.ts";

/** Words on the upright axis, with its limit. */
export function upTitle({ up, scale }: ClearedLines, { up: axis }: LineLayout): string {
  return scale === "ratio"
    ? `${up} (each step of the axis multiplies; the line at 1 is no difference)`
    : `${up} (axis ends at ${axis.to})`;
}

/** Which lines are missing, and what lies beyond the axis. */
export function lineNote(exhibit: ClearedLines, layout: LineLayout): string {
  const missing = exhibit.lines.filter(({ x }) => x.length === 0).map(({ label }) => label);
  return [
    ...(layout.up.cuts ? ["Limits run beyond the axis and are cut at its end; the table has them."] : []),
    ...(missing.length > 0 ? [`Not drawn: ${missing.join(", ")}.`] : []),
  ].join(" ");
}

/** The text alternative: the question, then where each line begins, ends and has its largest value. */
export function lineDescription(exhibit: ClearedLines): string {
  const lines = drawableLines(exhibit);
  if (lines.length === 0) return `${exhibit.question} Nothing to draw.`;
  return [
    exhibit.question,
    `${exhibit.up}, by ${exhibit.across.toLowerCase()}.`,
    ...lines.map(sentence),
  ].join(" ");
}

function sentence({ label, x, y, low, high }: Line): string {
  // Not Math.max: a line may have more points than a call takes arguments.
  const largest = y.reduce((best, value, at) => (value > (y[best] ?? value) ? at : best), 0);
  const last = y.length - 1;
  const at = (place: number) => {
    const [below, above] = [low[place] ?? null, high[place] ?? null];
    const limits = below === null || above === null ? "" : ` (${short(below)} to ${short(above)})`;
    return `${short(y[place] ?? 0)}${limits} at ${short(x[place] ?? 0)}`;
  };
  return `${label}: from ${at(0)} to ${at(last)}, largest ${at(largest)}.`;
}

function short(value: number): string {
  return String(Number(value.toPrecision(3)));
}
