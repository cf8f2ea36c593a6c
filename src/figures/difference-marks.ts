import type { ClearedTable } from "../disclosure/cleared.ts";
import type { TableMarks } from "../report/block.ts";
import { INK, QUIET_INK } from "./figure-frame.ts";
import { shapedMark } from "./shaped-mark.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { valueAxis } from "./value-axis.ts";

/** The style sheet draws the line at 0 through the middle of the column. */
const [WIDTH, HEIGHT, EDGE] = [144, 16, 18];

/**
 * The differences of one pair of groups as marks inside their own table, so that a reader meets a row and its balance
 * together. Undefined where there are several pairs, or none: they have a figure beside the table, or nothing to draw.
 */
export function differenceMarks(
  document: SvgDocument,
  table: ClearedTable,
  leastReach: number,
): TableMarks | undefined {
  const [column, ...more] = table.columns.flatMap(({ id }, at) => (id.startsWith("apart-") ? [at] : []));
  if (column === undefined || more.length > 0) return undefined;
  const values = table.rows.map(({ cells }) => cells[column - 1]?.values[0]);
  const most = Math.max(0, ...values.map((value) => Math.abs(value ?? 0)));
  const { limit } = valueAxis(most, leastReach, Number.POSITIVE_INFINITY);
  const x = (value: number) => WIDTH / 2 + (value / limit) * (WIDTH / 2 - EDGE);
  return {
    column,
    scale: picture(document, scaleNodes(document, limit, x)),
    rows: values.map((value) =>
      value === undefined ? undefined : picture(document, markNodes(document, x(value), x(0))),
    ),
  };
}

/** The number stands beside it, so nobody needs to hear of the mark. */
function picture(document: SvgDocument, nodes: readonly SvgNode[]): string {
  const frame = { width: WIDTH, height: HEIGHT, viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" };
  return svgElement(document, "svg", frame, ...nodes).outerHTML;
}

function markNodes(document: SvgDocument, x: number, zero: number): SvgNode[] {
  const y = HEIGHT / 2;
  const arm = { x1: zero, x2: x, y1: y, y2: y, stroke: INK, "stroke-width": 1.6 };
  return [svgElement(document, "line", arm), shapedMark(document, 0, x, y)];
}

function scaleNodes(document: SvgDocument, limit: number, x: (value: number) => number): SvgNode[] {
  return [-limit, 0, limit].map((tick) =>
    svgElement(
      document,
      "text",
      { x: x(tick), y: HEIGHT - 4, fill: QUIET_INK, "font-size": 11, "text-anchor": "middle" },
      tick < 0 ? `−${-tick}` : String(tick),
    ),
  );
}
