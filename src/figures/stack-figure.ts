import type { Cleared, ClearedTable } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { type FigureOptions, frameFigure, INK, identifier, QUIET_INK } from "./figure-frame.ts";
import { groupRow } from "./group-row.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { textWidth } from "./text-width.ts";
import { type LegendEntry, underLegend } from "./under-legend.ts";
import { valueAxis } from "./value-axis.ts";

const [ROW_HEIGHT, BAR_HEIGHT, LEGEND_HEIGHT, MOST_LEFT] = [23, 14, 34, 240];
/** From the outcome asked about to the last of the others, told apart without colour; each has an edge in ink. */
const FILLS = [INK, "#8f969a", "#e4e5e3", "#c3c8ca", "#565e63"] as const;

type Row = ClearedTable["rows"][number];

interface Line {
  readonly label: string;
  readonly style: number | undefined;
  /** One for each part; undefined where one of them is not shown. */
  readonly parts: readonly number[] | undefined;
  readonly text: string;
}

/**
 * Amounts of several kinds on top of each other, a row a bar, the groups beneath each other with their own marks.
 *
 * Columns whose id begins with "part-" are drawn; rows that name the style of a group are bars, headings are kept.
 * Undefined where no row has all its parts. Nothing is computed but the sum at which a part begins; a row with a hidden
 * part has no bar.
 */
export function stackFigure(table: Cleared<ClearedTable>, options: FigureOptions = {}): Figure | undefined {
  const columns = table.columns.flatMap(({ id, label }, at) =>
    id.startsWith("part-") ? [{ at: at - 1, label }] : [],
  );
  const places = columns.map(({ at }) => at);
  const lines = table.rows.flatMap((row) => lineOf(row, places));
  const totals = lines.flatMap(({ parts }) => (parts === undefined ? [] : [sum(parts)]));
  if (totals.length === 0) return undefined;
  const document = svgDocument();
  const most = Math.max(...totals);
  const axis = valueAxis(most, most, Number.POSITIVE_INFINITY);
  const left = Math.min(
    MOST_LEFT,
    Math.max(100, ...lines.map(({ label }) => textWidth(label, FONT_SIZE) + 44)),
  );
  const right = FIGURE_WIDTH - Math.max(...lines.map(({ text }) => textWidth(text, FONT_SIZE))) - 22;
  const bottom = LEGEND_HEIGHT + lines.length * ROW_HEIGHT + 2;
  const x = (value: number) => left + (value / axis.limit) * (right - left);
  const drawing = [
    ...axis.ticks.flatMap((tick) => tickNodes(document, tick, x(tick), bottom)),
    ...lines.flatMap((line, at) =>
      lineNodes(document, line, LEGEND_HEIGHT + (at + 0.5) * ROW_HEIGHT, { left, right, x }),
    ),
  ];
  const entries = columns.map(
    ({ label }, at): LegendEntry => ({
      label,
      sample: (x, y) => box(document, at, { x: x + 1, y: y - 10, width: 18, height: 11 }),
    }),
  );
  const { nodes, extra } = underLegend(document, entries, { sampleWidth: 26 }, drawing);
  const text = frameFigure(document, nodes, {
    ...options,
    id: table.id,
    title: table.title,
    description: description(table, places),
    width: FIGURE_WIDTH,
    height: bottom + 26 + extra,
  });
  return { fileName: `${identifier(table.id)}.svg`, svg: text };
}

function lineOf({ label, heading, style, cells }: Row, places: readonly number[]): Line[] {
  if (heading) return [{ label, style: undefined, parts: undefined, text: "" }];
  if (style === undefined) return [];
  const shown = places.map((at) => cells[at]);
  const values = shown.flatMap((cell) => cell?.values.slice(0, 1) ?? []);
  return [
    {
      label,
      style,
      parts: values.length === places.length ? values : undefined,
      text: shown.map((cell) => cell?.text ?? "").join(" + "),
    },
  ];
}

interface Place {
  readonly left: number;
  readonly right: number;
  x(value: number): number;
}

function lineNodes(document: SvgDocument, line: Line, y: number, { left, right, x }: Place): SvgNode[] {
  const { style, parts, text } = line;
  const name = groupRow(document, line, y, left);
  if (style === undefined) return name;
  const base = y + FONT_SIZE * 0.35;
  return [
    ...name,
    ...(parts ?? []).map((part, at) => {
      const from = sum((parts ?? []).slice(0, at));
      return box(document, at, {
        x: x(from),
        y: y - BAR_HEIGHT / 2,
        width: x(from + part) - x(from),
        height: BAR_HEIGHT,
      });
    }),
    svgElement(
      document,
      "text",
      { x: right + 14, y: base, fill: QUIET_INK, "font-variant": "tabular-nums" },
      text,
    ),
  ];
}

function box(document: SvgDocument, at: number, frame: Readonly<Record<string, number>>): SvgNode {
  const fill = FILLS[at % FILLS.length] ?? INK;
  return svgElement(document, "rect", { ...frame, fill, stroke: INK, "stroke-width": 0.8 });
}

function tickNodes(document: SvgDocument, tick: number, x: number, bottom: number): SvgNode[] {
  return [
    svgElement(document, "line", {
      x1: x,
      x2: x,
      y1: LEGEND_HEIGHT - 4,
      y2: bottom,
      stroke: tick === 0 ? "#3a4247" : "#dedad2",
    }),
    svgElement(document, "text", { x, y: bottom + 16, "text-anchor": "middle" }, String(tick)),
  ];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function description({ title, rows, columns }: ClearedTable, places: readonly number[]): string {
  let heading = "";
  const sentences = rows.flatMap(({ label, heading: isHeading, cells }) => {
    if (isHeading) {
      heading = label;
      return [];
    }
    const told = places.map((at) => `${columns[at + 1]?.label} ${cells[at]?.text ?? ""}`);
    return [`${heading === "" ? "" : `${heading}, `}${label}: ${told.join(", ")}.`];
  });
  return [`${title}, on top of each other.`, ...sentences].join(" ");
}
