import type { Cleared, ClearedCell, ClearedTable } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { type FigureOptions, frameFigure, identifier, QUIET_INK } from "./figure-frame.ts";
import { lineStyle } from "./line-style.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { textWidth, wrapText } from "./text-width.ts";
import { type LegendEntry, type LegendLook, underLegend } from "./under-legend.ts";

const [BAR_HEIGHT, ROW_GAP, LEGEND_HEIGHT, MOST_LEFT] = [15, 9, 30, 280];
const INDENT = 14;
const LEGEND_LOOK: LegendLook = { sampleWidth: 26 };
const TICKS = [0, 20, 40, 60, 80, 100];

interface Column {
  readonly at: number;
  readonly label: string;
  /** Place of the group; undefined where the column is of no group. */
  readonly style: number | undefined;
}

/**
 * Percentages as bars from 0 to 100, a row a block, the groups beneath each other in their own colours, the numbers beside
 * them. Columns whose id is "group-0", "group-1", … are groups; others are drawn in ink.
 *
 * Undefined where no percentage is shown. Nothing is computed: a hidden cell has its word and no bar.
 */
export function barFigure(table: Cleared<ClearedTable>, options: FigureOptions = {}): Figure | undefined {
  const columns = table.columns.slice(1).map(({ id, label }, at): Column => {
    const place = /^group-(\d+)$/.exec(id)?.[1];
    return { at, label, style: place === undefined ? undefined : Number(place) };
  });
  const rows = table.rows.filter(({ heading }) => !heading);
  if (!rows.some(({ cells }) => cells.some(({ values }) => values.length > 0))) return undefined;
  const document = svgDocument();
  const left = Math.min(
    MOST_LEFT,
    Math.max(60, ...rows.map(({ label, indent }) => INDENT * indent + textWidth(label, FONT_SIZE))) + 16,
  );
  const right =
    FIGURE_WIDTH -
    Math.max(...rows.flatMap(({ cells }) => cells.map(({ text }) => textWidth(text, FONT_SIZE)))) -
    14;
  const top = columns.length > 1 ? LEGEND_HEIGHT : 8;
  const height = columns.length * BAR_HEIGHT + ROW_GAP;
  const bottom = top + rows.length * height;
  const x = (percent: number) => left + (percent / 100) * (right - left);
  const drawing = [
    ...TICKS.flatMap((tick) => tickNodes(document, tick, x(tick), top, bottom)),
    ...rows.flatMap(({ label, indent, cells }, row) => {
      const start = top + row * height;
      return [
        rowLabel(
          document,
          label,
          { x: INDENT * indent, y: start + (columns.length * BAR_HEIGHT) / 2 + 2 },
          left,
          columns.length,
        ),
        ...columns.flatMap((column, at) =>
          bar(document, cells[column.at], column, { left, y: start + 2 + at * BAR_HEIGHT, x }),
        ),
      ];
    }),
  ];
  const { nodes, extra } = underLegend(document, legend(document, columns), LEGEND_LOOK, drawing);
  const text = frameFigure(document, nodes, {
    ...options,
    id: table.id,
    title: table.title,
    description: description(table, rows, columns),
    width: FIGURE_WIDTH,
    height: bottom + 24 + extra,
  });
  return { fileName: `${identifier(table.id)}.svg`, svg: text };
}

interface Place {
  readonly left: number;
  readonly y: number;
  x(percent: number): number;
}

function bar(
  document: SvgDocument,
  cell: ClearedCell | undefined,
  { style }: Column,
  { left, y, x }: Place,
): SvgNode[] {
  if (cell === undefined || cell.text === "") return [];
  // A share is its count first, then its percentage.
  const percent = cell.values.at(-1);
  const end = percent === undefined ? left : x(Math.min(100, Math.max(0, percent)));
  const words = svgElement(
    document,
    "text",
    {
      x: end + 6,
      y: y + BAR_HEIGHT - 4,
      fill: QUIET_INK,
      "font-size": FONT_SIZE - 1,
      "font-variant": "tabular-nums",
    },
    cell.text,
  );
  if (percent === undefined) return [words];
  const frame = { x: left, y: y + 1, width: Math.max(0, end - left), height: BAR_HEIGHT - 3 };
  return [svgElement(document, "rect", { ...frame, ...look(style) }), words];
}

/** Nothing to tell apart where there is one column. */
function legend(document: SvgDocument, columns: readonly Column[]): LegendEntry[] {
  if (columns.length < 2) return [];
  return columns.map(({ label, style }) => ({
    label,
    sample: (x, y) =>
      svgElement(document, "rect", { x: x + 1, y: y - 10, width: 18, height: 11, ...look(style) }),
  }));
}

/** Filled and hollow in turn, so that two groups differ without their colours. */
function look(style: number | undefined) {
  const colour = style === undefined ? QUIET_INK : lineStyle(style).colour;
  return (style ?? 0) % 2 === 0 ? { fill: colour } : { fill: "#ffffff", stroke: colour, "stroke-width": 1.4 };
}

function tickNodes(document: SvgDocument, tick: number, x: number, top: number, bottom: number): SvgNode[] {
  return [
    svgElement(document, "line", {
      x1: x,
      x2: x,
      y1: top,
      y2: bottom,
      stroke: tick === 0 ? "#3a4247" : "#dedad2",
    }),
    svgElement(document, "text", { x, y: bottom + 16, "text-anchor": "middle" }, `${tick} %`),
  ];
}

/** In as many lines as fit beside the bars. */
function rowLabel(
  document: SvgDocument,
  label: string,
  { x, y }: { readonly x: number; readonly y: number },
  left: number,
  bars: number,
): SvgNode {
  const lines = wrapText(label, FONT_SIZE, left - x - 12, Math.max(1, bars));
  const first = y + FONT_SIZE * 0.35 - ((lines.length - 1) * BAR_HEIGHT) / 2;
  return svgElement(
    document,
    "text",
    { x, y: first, "unicode-bidi": "plaintext" },
    ...lines.map((words, at) => svgElement(document, "tspan", { x, y: first + at * BAR_HEIGHT }, words)),
  );
}

function description(
  { title }: ClearedTable,
  rows: ClearedTable["rows"],
  columns: readonly Column[],
): string {
  const sentences = rows.map(({ label, cells }) => {
    const told = columns.flatMap(({ at, label: name }) => {
      const text = cells[at]?.text ?? "";
      return text === "" ? [] : [columns.length > 1 ? `${name} ${text}` : text];
    });
    return `${label}: ${told.join(", ")}.`;
  });
  return [`${title}, as bars from 0 to 100 per cent.`, ...sentences].join(" ");
}
