import { yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurves } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import {
  type CurveLayout,
  drawableCurves,
  FIGURE_WIDTH,
  FONT_SIZE,
  LINE_HEIGHT,
  largestShare,
  SAMPLE_WIDTH,
} from "./curve-layout.ts";
import { curvePlot } from "./curve-plot.ts";
import { curveDescription } from "./curve-words.ts";
import { type FigureOptions, frameFigure, QUIET_INK } from "./figure-frame.ts";
import { lineSample } from "./numbers-beneath.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { type LegendEntry, type LegendLook, underLegend } from "./under-legend.ts";
import { valueAxis } from "./value-axis.ts";

const [GAP, LEFT, TOP, PLOT_HEIGHT] = [24, 40, 62, 240];
const PANEL_WIDTH = (FIGURE_WIDTH - GAP) / 2;
const PER = 1000;
const LEGEND_LOOK: LegendLook = { sampleWidth: SAMPLE_WIDTH, isBold: true };

type Curves = Cleared<ClearedCurves>;

/**
 * Two pictures of the same groups beside each other on the same axes, so that what differs between them is what they ask.
 *
 * Undefined unless both have a curve. Both are drawn per 1000. The numbers stand in the figure of each.
 */
export function pairFigure(
  first: Curves,
  second: Curves,
  options: FigureOptions & { readonly id: string; readonly title: string },
): Figure | undefined {
  const pair = [first, second];
  if (pair.some((exhibit) => drawableCurves(exhibit).length === 0)) return undefined;
  const document = svgDocument();
  const layout = sharedLayout(pair);
  const height = layout.bottom + 40;
  const panels = pair.map((exhibit, at) =>
    svgElement(
      document,
      "g",
      { transform: `translate(${at * (PANEL_WIDTH + GAP)},0)` },
      curvePlot(document, exhibit, layout, height, PER),
      ...heading(document, exhibit),
      svgElement(document, "text", { x: LEFT, y: layout.bottom + 34, fill: QUIET_INK }, "Years of follow-up"),
    ),
  );
  const { id, title, ...frame } = options;
  const words = `Both per 1000 ${first.unitWord}; both axes end at ${layout.values.limit}.`;
  const { nodes, extra } = underLegend(document, legend(document, first), LEGEND_LOOK, panels);
  const svg = frameFigure(document, nodes, {
    ...frame,
    id,
    title,
    description: `${words} Left: ${curveDescription(first)} Right: ${curveDescription(second)}`,
    width: FIGURE_WIDTH,
    height: height + extra,
  });
  return { fileName: `${id}.svg`, svg };
}

function sharedLayout(pair: readonly Curves[]): CurveLayout {
  const curves = pair.flatMap((exhibit) => drawableCurves(exhibit).map((curve) => ({ curve, exhibit })));
  const largest = largestShare(curves.map(({ curve }) => curve));
  const values = valueAxis(PER * largest, PER / 100, PER);
  const drawn = Math.max(
    ...curves.map(({ curve, exhibit }) => yearsOfTicks(curve.drawnTo, exhibit.timeUnit)),
  );
  const years = pair[0]?.years ?? [];
  const yearsEnd = years.find((year) => year >= drawn && year <= 1.25 * drawn) ?? drawn;
  const ticks = years.map((year, at) => ({ year, at })).filter(({ year }) => year <= yearsEnd);
  const [right, bottom] = [PANEL_WIDTH - 10, TOP + PLOT_HEIGHT];
  return {
    width: PANEL_WIDTH,
    left: LEFT,
    right,
    top: TOP,
    bottom,
    yearsEnd,
    ticks,
    columns: [],
    numberSize: FONT_SIZE,
    values,
    x: (year) => LEFT + (year / yearsEnd) * (right - LEFT),
    y: (share) => bottom - ((PER * share) / values.limit) * PLOT_HEIGHT,
  };
}

function heading(document: SvgDocument, exhibit: Curves): SvgNode[] {
  const name = exhibit.risk === "crude" ? "Crude risk, per 1000" : "Net risk, per 1000";
  const what =
    exhibit.risk === "crude"
      ? "as it happens: some die or have another reason first"
      : "if nobody died or had another reason first";
  return [
    svgElement(document, "text", { x: 0, y: 36, "font-weight": 600 }, name),
    svgElement(
      document,
      "text",
      { x: 0, y: 36 + LINE_HEIGHT - 2, fill: QUIET_INK, "font-size": FONT_SIZE - 1 },
      what,
    ),
  ];
}

/** At the top: beside the ends of their lines there is no room for long names. */
function legend(document: SvgDocument, { curves }: Curves): LegendEntry[] {
  return curves.map(({ label, style }) => ({
    label,
    sample: (x, y) => lineSample(document, style, x, y - 4),
  }));
}
