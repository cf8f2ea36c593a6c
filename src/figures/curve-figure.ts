import type { Cleared, ClearedCurves } from "../disclosure/cleared.ts";
import type { Figure, PlotArea } from "../report/block.ts";
import { curveLabels } from "./curve-labels.ts";
import { curveLayout, drawableCurves, FIGURE_WIDTH, LINE_HEIGHT } from "./curve-layout.ts";
import { curvePlot } from "./curve-plot.ts";
import { axisTitle, curveDescription, endNote, nothingToDraw } from "./curve-words.ts";
import { type FigureOptions, frameFigure, identifier, QUIET_INK, STAMP_ROOM } from "./figure-frame.ts";
import { noteLines } from "./note-lines.ts";
import { numbersBeneath } from "./numbers-beneath.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";

const TICK_ROOM = 34;

/**
 * How the share with the event grows over time in each group, as a picture with its numbers beneath.
 *
 * Curves go up from 0 and stop where the exhibit says; each group's interval is shaded; the limit of the axis is
 * written on it. Groups differ by dash as well as by colour. Nothing is computed: the exhibit is drawn as it was
 * cleared, and a hidden number stays the words it was replaced by.
 *
 * @example
 * curveFigure(clearedCurves, { stamp: "INVENTED DATA" }).svg; // "<svg …>"
 */
export function curveFigure(exhibit: Cleared<ClearedCurves>, options: FigureOptions = {}): Figure {
  const document = svgDocument();
  const { nodes, height, plot } =
    drawableCurves(exhibit).length === 0 ? sentenceOnly(document, exhibit) : drawing(document, exhibit);
  const text = frameFigure(document, nodes, {
    ...options,
    id: exhibit.id,
    title: exhibit.title,
    description: curveDescription(exhibit),
    width: FIGURE_WIDTH,
    height,
  });
  const fileName = `${identifier(exhibit.id)}.svg`;
  if (plot === undefined) return { fileName, svg: text };
  const moved = options.stamp === undefined ? 0 : STAMP_ROOM;
  return { fileName, svg: text, plot: { ...plot, top: plot.top + moved, bottom: plot.bottom + moved } };
}

interface Drawing {
  readonly nodes: readonly SvgNode[];
  readonly height: number;
  readonly plot?: PlotArea;
}

function drawing(document: SvgDocument, exhibit: Cleared<ClearedCurves>): Drawing {
  const layout = curveLayout(exhibit);
  const beneath = numbersBeneath(document, exhibit, layout, layout.bottom + TICK_ROOM);
  const note = noteLines(document, endNote(exhibit), beneath.bottom + LINE_HEIGHT - 4);
  const height = note.bottom;
  const nodes = [
    curvePlot(document, exhibit, layout, height),
    svgElement(document, "text", { x: 0, y: 15, "font-weight": 600 }, axisTitle(exhibit, layout)),
    svgElement(document, "text", { x: 0, y: layout.bottom + 19, fill: QUIET_INK }, "Years of follow-up"),
    ...curveLabels(document, exhibit, layout),
    ...beneath.nodes,
    ...note.nodes,
  ];
  const { left, right, top, bottom, yearsEnd } = layout;
  return { nodes, height, plot: { left, right, top, bottom, yearsEnd } };
}

function sentenceOnly(document: SvgDocument, exhibit: Cleared<ClearedCurves>): Drawing {
  const note = noteLines(document, nothingToDraw(exhibit), 44);
  return { nodes: note.nodes, height: note.bottom };
}
