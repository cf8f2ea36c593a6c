import type { Cleared, ClearedTable } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { type FigureOptions, frameFigure, identifier, QUIET_INK } from "./figure-frame.ts";
import { groupRow } from "./group-row.ts";
import { amountAxis } from "./line-axis.ts";
import { lineStyle } from "./line-style.ts";
import { noteLines } from "./note-lines.ts";
import { shapedMark } from "./shaped-mark.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { textWidth } from "./text-width.ts";

const ROW_HEIGHT = 21;
const [TOP, LEAST_LEFT, MOST_LEFT] = [30, 100, 260];

type Row = ClearedTable["rows"][number];

/** A line of the figure: a heading, or a group with its cell. */
interface Line {
  readonly label: string;
  readonly style: number | undefined;
  readonly text: string;
  /** Estimate and limits; undefined where they are hidden or there are none. */
  readonly values: readonly [number, number, number] | undefined;
}

/**
 * Amounts with their limits on an axis from 0, the groups beneath each other in their own styles, the numbers beside them.
 *
 * Rows that name the style of a group are drawn, by their last cell; the headings above them are kept. Undefined where none
 * holds three numbers. Nothing is computed; limits beyond the axis end in an arrow.
 */
export function amountFigure(table: Cleared<ClearedTable>, options: FigureOptions = {}): Figure | undefined {
  const lines = linesOf(table.rows);
  const drawn = lines.flatMap(({ values }) => (values === undefined ? [] : [values]));
  if (drawn.length === 0) return undefined;
  const document = svgDocument();
  const axis = amountAxis(
    drawn.map(([value]) => value),
    drawn.flatMap(([, low, high]) => [low, high]),
  );
  const left = Math.min(
    MOST_LEFT,
    Math.max(LEAST_LEFT, ...lines.map((line) => textWidth(line.label, FONT_SIZE) + 44)),
  );
  const right = FIGURE_WIDTH - Math.max(...lines.map(({ text }) => textWidth(text, FONT_SIZE))) - 22;
  const bottom = TOP + lines.length * ROW_HEIGHT + 4;
  const place: Place = { left, right, bottom, to: axis.to };
  const cut = axis.cuts
    ? noteLines(
        document,
        "An arrow: the limit lies beyond the axis; the numbers beside it have it.",
        bottom + 36,
      )
    : undefined;
  const nodes = [
    svgElement(
      document,
      "text",
      { x: 0, y: 15, "font-weight": 600 },
      `${table.columns.at(-1)?.label ?? ""}; axis ends at ${axis.to}`,
    ),
    ...axis.ticks.flatMap((tick) => tickNodes(document, tick, place)),
    ...lines.flatMap((line, at) => lineNodes(document, line, TOP + (at + 0.5) * ROW_HEIGHT, place)),
    ...(cut?.nodes ?? []),
  ];
  const text = frameFigure(document, nodes, {
    ...options,
    id: table.id,
    title: table.title,
    description: description(table, lines),
    width: FIGURE_WIDTH,
    height: (cut?.bottom ?? bottom + 24) + 4,
  });
  return { fileName: `${identifier(table.id)}.svg`, svg: text };
}

function linesOf(rows: readonly Row[]): Line[] {
  return rows.flatMap(({ label, heading, style, cells }): Line[] => {
    if (heading) return [{ label, style: undefined, text: "", values: undefined }];
    if (style === undefined) return [];
    const { text = "", values: [value, low, high] = [] } = cells.at(-1) ?? {};
    const isWhole = value !== undefined && low !== undefined && high !== undefined;
    return [{ label, style, text, values: isWhole ? [value, low, high] : undefined }];
  });
}

interface Place {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly to: number;
}

function xOf(value: number, { left, right, to }: Place): number {
  return left + (Math.min(to, Math.max(0, value)) / to) * (right - left);
}

function tickNodes(document: SvgDocument, tick: number, place: Place): SvgNode[] {
  const x = xOf(tick, place);
  return [
    svgElement(document, "line", {
      x1: x,
      x2: x,
      y1: TOP,
      y2: place.bottom,
      stroke: tick === 0 ? "#3a4247" : "#dedad2",
    }),
    svgElement(document, "text", { x, y: place.bottom + 16, "text-anchor": "middle" }, String(tick)),
  ];
}

function lineNodes(
  document: SvgDocument,
  { label, style, text, values }: Line,
  y: number,
  place: Place,
): SvgNode[] {
  const name = groupRow(document, { label, style }, y, place.left);
  if (style === undefined) return name;
  const base = y + FONT_SIZE * 0.35;
  return [
    ...name,
    ...(values === undefined ? [] : estimate(document, style, values, y, place)),
    svgElement(
      document,
      "text",
      { x: place.right + 14, y: base, fill: QUIET_INK, "font-variant": "tabular-nums" },
      text,
    ),
  ];
}

function estimate(
  document: SvgDocument,
  style: number,
  [value, low, high]: readonly [number, number, number],
  y: number,
  place: Place,
): SvgNode[] {
  const { colour, dashes } = lineStyle(style);
  const [x1, x2] = [xOf(low, place), xOf(high, place)];
  const ink = { stroke: colour, fill: "none" };
  const beyond = high > place.to;
  return [
    svgElement(document, "line", {
      x1,
      x2,
      y1: y,
      y2: y,
      stroke: colour,
      "stroke-width": 1.6,
      ...(dashes === undefined ? {} : { "stroke-dasharray": dashes }),
    }),
    svgElement(document, "path", { d: `M${round(x1)},${y - 3.5}L${round(x1)},${y + 3.5}`, ...ink }),
    svgElement(document, "path", {
      d: beyond
        ? `M${round(x2 - 5)},${y - 3.5}L${round(x2)},${y}L${round(x2 - 5)},${y + 3.5}`
        : `M${round(x2)},${y - 3.5}L${round(x2)},${y + 3.5}`,
      ...ink,
    }),
    shapedMark(document, style, xOf(value, place), y, colour),
  ];
}

function round(value: number): number {
  return Number(value.toFixed(2));
}

function description({ title, columns }: ClearedTable, lines: readonly Line[]): string {
  let heading = "";
  const sentences = lines.flatMap(({ label, style, text }) => {
    if (style === undefined) {
      heading = label;
      return [];
    }
    return [`${heading === "" ? "" : `${heading}, `}${label}: ${text}.`];
  });
  return [`${title}. ${columns.at(-1)?.label ?? ""}, on an axis from 0.`, ...sentences].join(" ");
}
