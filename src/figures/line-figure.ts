import type { Cleared, ClearedLines } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { FIGURE_WIDTH, LINE_HEIGHT } from "./curve-layout.ts";
import { endLabels } from "./end-labels.ts";
import { type FigureOptions, frameFigure, identifier, QUIET_INK } from "./figure-frame.ts";
import { drawableLines, lineLayout } from "./line-layout.ts";
import { linePlot } from "./line-plot.ts";
import { lineDescription, lineNote, upTitle } from "./line-words.ts";
import { noteLines } from "./note-lines.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";

const TICK_ROOM = 34;

/**
 * How a measure changes over time, as lines with their intervals shaded.
 *
 * Amounts go up from 0; ratios stand on a logarithmic axis with a line at 1. Nothing is computed: what lies beyond
 * the axis is cut at its end, and the note says so.
 */
export function lineFigure(exhibit: Cleared<ClearedLines>, options: FigureOptions = {}): Figure {
  const document = svgDocument();
  const { nodes, height } =
    drawableLines(exhibit).length === 0 ? nothingDrawn(document) : drawing(document, exhibit);
  const text = frameFigure(document, nodes, {
    ...options,
    id: exhibit.id,
    title: exhibit.title,
    description: lineDescription(exhibit),
    width: FIGURE_WIDTH,
    height,
  });
  return { fileName: `${identifier(exhibit.id)}.svg`, svg: text };
}

function nothingDrawn(document: SvgDocument) {
  const note = noteLines(document, "Nothing to draw: see the notes.", 44);
  return { nodes: note.nodes, height: note.bottom };
}

function drawing(document: SvgDocument, exhibit: Cleared<ClearedLines>) {
  const layout = lineLayout(exhibit);
  const words = lineNote(exhibit, layout);
  const below = layout.bottom + TICK_ROOM;
  const note = words === "" ? { nodes: [], bottom: below } : noteLines(document, words, below + LINE_HEIGHT);
  const nodes: SvgNode[] = [
    linePlot(document, exhibit, layout, note.bottom),
    svgElement(document, "text", { x: 0, y: 15, "font-weight": 600 }, upTitle(exhibit, layout)),
    svgElement(
      document,
      "text",
      { x: layout.left, y: layout.bottom + TICK_ROOM, fill: QUIET_INK },
      exhibit.across,
    ),
    ...endLabels(document, ends(exhibit, layout), layout),
    ...note.nodes,
  ];
  return { nodes, height: note.bottom + 6 };
}

function ends(exhibit: Cleared<ClearedLines>, layout: ReturnType<typeof lineLayout>) {
  const point = (x: number, y: number) => ({ x: layout.x(x), y: layout.y(y) });
  const { of } = exhibit;
  return drawableLines(exhibit).map(({ label, style, x, y }) => ({
    label,
    style,
    ...(of === undefined ? {} : { of }),
    points: x.map((across, at) => point(across, y[at] ?? 0)),
  }));
}
