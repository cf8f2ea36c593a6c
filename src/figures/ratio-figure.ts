import type { Cleared, ClearedTable } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { type FigureOptions, frameFigure, INK, identifier, QUIET_INK } from "./figure-frame.ts";
import { type LineAxis, ratioAxis } from "./line-axis.ts";
import { MARK_LOOK, markLegend } from "./mark-legend.ts";
import { noteLines } from "./note-lines.ts";
import { shapedMark } from "./shaped-mark.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { textWidth, wrapText } from "./text-width.ts";
import { underLegend } from "./under-legend.ts";

/** From one mark of a row to the next, and what a row needs besides. */
const [APART, ROW_ROOM] = [11, 9];
const [TOP, LEAST_LEFT, MOST_LEFT, RIGHT_ROOM] = [44, 90, 300, 24];

/** A cell of the table that can be drawn: estimate and limits. */
interface Drawn {
  readonly column: number;
  readonly row: number;
  readonly values: readonly [number, number, number];
}

/**
 * Ratios with their limits on one logarithmic axis, a row a line, every column with a mark of its own.
 *
 * Undefined where no cell holds three numbers: an empty frame would say nothing. Nothing is computed; limits beyond
 * the axis end in an arrow.
 */
export function ratioFigure(table: Cleared<ClearedTable>, options: FigureOptions = {}): Figure | undefined {
  const drawn = table.rows.flatMap(({ cells }, row) =>
    cells.flatMap(({ values: [value, low, high] }, column): Drawn[] =>
      value === undefined || low === undefined || high === undefined
        ? []
        : [{ column, row, values: [value, low, high] }],
    ),
  );
  if (drawn.length === 0) return undefined;
  const document = svgDocument();
  const rows = table.rows
    .map((row, at) => ({ ...row, at }))
    .filter(({ heading, at }) => heading || drawn.some((one) => one.row === at));
  const labels = rows.map(({ label }) => textWidth(label, FONT_SIZE));
  const left = Math.min(MOST_LEFT, Math.max(LEAST_LEFT, ...labels) + 24);
  const axis = ratioAxis(drawn.flatMap(({ values }) => values));
  const columns = [...new Set(drawn.map(({ column }) => column))];
  const rowHeight = ROW_ROOM + APART * columns.length;
  const bottom = TOP + rows.length * rowHeight + 6;
  const place = { left, right: FIGURE_WIDTH - RIGHT_ROOM, bottom, axis };
  const cut = axis.cuts
    ? noteLines(document, "An arrow: the limit lies beyond the axis; the table has it.", bottom + 52)
    : undefined;
  const drawing = [
    ...axisNodes(document, place),
    ...rows.flatMap(({ label, heading, at }, line) => {
      const y = TOP + (line + 0.5) * rowHeight;
      return [
        rowLabel(document, label, heading, y, left),
        ...drawn.filter(({ row }) => row === at).flatMap((one) => mark(document, one, columns, y, place)),
      ];
    }),
    ...(cut?.nodes ?? []),
  ];
  const names = columns.map((column) => table.columns[column + 1]?.label ?? "");
  const { nodes, extra } = underLegend(document, markLegend(document, names), MARK_LOOK, drawing);
  const text = frameFigure(document, nodes, {
    ...options,
    id: table.id,
    title: table.title,
    description: description(table, drawn),
    width: FIGURE_WIDTH,
    height: (cut?.bottom ?? bottom + 44) + 4 + extra,
  });
  return { fileName: `${identifier(table.id)}.svg`, svg: text };
}

interface Place {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly axis: LineAxis;
}

function xOf(value: number, { left, right, axis }: Place): number {
  const within = Math.min(axis.to, Math.max(axis.from, value));
  return (
    left +
    ((Math.log(within) - Math.log(axis.from)) / (Math.log(axis.to) - Math.log(axis.from))) * (right - left)
  );
}

function axisNodes(document: SvgDocument, place: Place): SvgNode[] {
  const { axis, bottom, left, right } = place;
  return [
    ...axis.ticks.flatMap((tick) => {
      const x = xOf(tick, place);
      const line = { x1: x, x2: x, y1: TOP, y2: bottom, stroke: tick === 1 ? "#3a4247" : "#dedad2" };
      return [
        svgElement(document, "line", tick === 1 ? { ...line, "stroke-width": 1.4 } : line),
        svgElement(document, "text", { x, y: bottom + 16, "text-anchor": "middle" }, String(tick)),
      ];
    }),
    svgElement(
      document,
      "text",
      { x: (left + right) / 2, y: bottom + 34, fill: QUIET_INK, "text-anchor": "middle" },
      "Hazard ratio; 1 means that both are alike",
    ),
  ];
}

function rowLabel(document: SvgDocument, label: string, heading: boolean, y: number, left: number): SvgNode {
  const [words = ""] = wrapText(label, FONT_SIZE, heading ? FIGURE_WIDTH - 8 : left - 24, 1);
  const place = { x: heading ? 0 : 14, y: y + FONT_SIZE * 0.35, "unicode-bidi": "plaintext" };
  return svgElement(document, "text", heading ? { ...place, "font-weight": 600 } : place, words);
}

function mark(
  document: SvgDocument,
  { column, values: [value, low, high] }: Drawn,
  columns: readonly number[],
  middle: number,
  place: Place,
): SvgNode[] {
  const at = columns.indexOf(column);
  const y = middle + (at - (columns.length - 1) / 2) * APART;
  const [x1, x2] = [xOf(low, place), xOf(high, place)];
  const end = (x: number, beyond: boolean, way: 1 | -1) =>
    svgElement(document, "path", {
      d: beyond
        ? `M${x - 5 * way},${y - 3}L${x},${y}L${x - 5 * way},${y + 3}`
        : `M${x},${y - 3}L${x},${y + 3}`,
      stroke: INK,
      fill: "none",
    });
  return [
    svgElement(document, "line", {
      x1,
      x2,
      y1: y,
      y2: y,
      stroke: INK,
      "stroke-width": at === 0 ? 1.2 : 1.8,
    }),
    end(x1, low < place.axis.from, -1),
    end(x2, high > place.axis.to, 1),
    ...(value < place.axis.from || value > place.axis.to
      ? []
      : [shapedMark(document, at, xOf(value, place), y)]),
  ];
}

function description({ rows, columns, title }: ClearedTable, drawn: readonly Drawn[]): string {
  const sentences = drawn.map(({ row, column }) => {
    const heading = rows.slice(0, row).findLast((one) => one.heading)?.label;
    const words = [heading, rows[row]?.label, columns[column + 1]?.label].filter(
      (word) => word !== undefined,
    );
    return `${words.join(", ")}: ${rows[row]?.cells[column]?.text}.`;
  });
  return [`${title}, on a logarithmic axis.`, ...sentences].join(" ");
}
