import type { Cleared, ClearedTable } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { differenceMarks } from "./difference-marks.ts";
import { type FigureOptions, frameFigure, identifier, QUIET_INK } from "./figure-frame.ts";
import { MARK_LOOK, markLegend } from "./mark-legend.ts";
import { shapedMark } from "./shaped-mark.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { textWidth, wrapText } from "./text-width.ts";
import { underLegend } from "./under-legend.ts";
import { valueAxis } from "./value-axis.ts";

const ROW_HEIGHT = 19;
const [TOP, MOST_LEFT, RIGHT_ROOM] = [34, 320, 30];
/** Never a shorter axis: noise near zero must not fill the frame. */
const LEAST_REACH = 0.2;

interface Drawn {
  readonly label: string;
  readonly column: number;
  readonly value: number;
  readonly line: number;
}

/**
 * How far the groups lay apart before anything happened, a row a line, around a line at 0.
 *
 * Undefined where no difference is shown. Nothing is computed: hidden cells have no mark.
 */
export function differenceFigure(
  table: Cleared<ClearedTable>,
  options: FigureOptions = {},
): Figure | undefined {
  const columns = table.columns.flatMap(({ id }, at) => (id.startsWith("apart") ? [at - 1] : []));
  const rows = table.rows.filter(({ cells }) =>
    columns.some((column) => cells[column]?.values[0] !== undefined),
  );
  const drawn = rows.flatMap(({ label, cells }, line) =>
    columns.flatMap((at, column): Drawn[] => {
      const value = cells[at]?.values[0];
      return value === undefined ? [] : [{ label, column, value, line }];
    }),
  );
  if (drawn.length === 0) return undefined;
  const document = svgDocument();
  const left = Math.min(MOST_LEFT, Math.max(...rows.map(({ label }) => textWidth(label, FONT_SIZE))) + 16);
  const most = Math.max(...drawn.map(({ value }) => Math.abs(value)));
  const { limit, ticks } = valueAxis(most, LEAST_REACH, Number.POSITIVE_INFINITY);
  const bottom = TOP + rows.length * ROW_HEIGHT + 4;
  const right = FIGURE_WIDTH - RIGHT_ROOM;
  const x = (value: number) => left + ((value + limit) / (2 * limit)) * (right - left);
  const middle = (line: number) => TOP + (line + 0.5) * ROW_HEIGHT;
  const drawing = [
    ...[...ticks.slice(1).map((tick) => -tick), ...ticks].flatMap((tick) =>
      axisMark(document, tick, x(tick), bottom),
    ),
    svgElement(
      document,
      "text",
      { x: (left + right) / 2, y: bottom + 34, fill: QUIET_INK, "text-anchor": "middle" },
      "Standardised difference; 0 means that the groups were alike",
    ),
    ...rows.map(({ label }, line) => rowLabel(document, label, middle(line), left)),
    ...drawn.map(({ column, value, line }) => shapedMark(document, column, x(value), middle(line))),
  ];
  // One pair needs no legend.
  const names = columns.length < 2 ? [] : columns.map((at) => table.columns[at + 1]?.label ?? "");
  const { nodes, extra } = underLegend(document, markLegend(document, names), MARK_LOOK, drawing);
  const text = frameFigure(document, nodes, {
    ...options,
    id: table.id,
    title: `${table.title}: how far the groups lay apart`,
    description: description(drawn, table, columns),
    width: FIGURE_WIDTH,
    height: bottom + 44 + extra,
  });
  const marks = differenceMarks(document, table, LEAST_REACH);
  return { fileName: `${identifier(table.id)}.svg`, svg: text, ...(marks === undefined ? {} : { marks }) };
}

function axisMark(document: SvgDocument, tick: number, x: number, bottom: number): SvgNode[] {
  const line = { x1: x, x2: x, y1: TOP, y2: bottom, stroke: tick === 0 ? "#3a4247" : "#dedad2" };
  const words = tick < 0 ? `−${-tick}` : String(tick);
  return [
    svgElement(document, "line", tick === 0 ? { ...line, "stroke-width": 1.4 } : line),
    svgElement(document, "text", { x, y: bottom + 16, "text-anchor": "middle" }, words),
  ];
}

function rowLabel(document: SvgDocument, label: string, y: number, left: number): SvgNode {
  const [words = ""] = wrapText(label, FONT_SIZE, left - 12, 1);
  return svgElement(document, "text", { x: 0, y: y + FONT_SIZE * 0.35, "unicode-bidi": "plaintext" }, words);
}

function description(drawn: readonly Drawn[], table: ClearedTable, columns: readonly number[]): string {
  const several = columns.length > 1;
  const words = drawn.map(({ label, column, value }) => {
    const pair = several ? `, ${table.columns[(columns[column] ?? 0) + 1]?.label}` : "";
    return `${label}${pair}: ${Number(value.toPrecision(3))}`;
  });
  return `Standardised differences, first group minus second; 0 means alike. ${words.join("; ")}.`;
}
