import { yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurves } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { type CurveLayout, drawableCurves, FIGURE_WIDTH, FONT_SIZE, LINE_HEIGHT } from "./curve-layout.ts";
import { curvePlot } from "./curve-plot.ts";
import { curveDescription } from "./curve-words.ts";
import { type FigureOptions, frameFigure, QUIET_INK } from "./figure-frame.ts";
import { lineSample } from "./numbers-beneath.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { textWidth, wrapText } from "./text-width.ts";
import { valueAxis } from "./value-axis.ts";

const [GAP, LEFT, TOP, PLOT_HEIGHT] = [24, 40, 62, 240];
const PANEL_WIDTH = (FIGURE_WIDTH - GAP) / 2;
const PER = 1000;

type Curves = Cleared<ClearedCurves>;

/**
 * Two pictures of the same groups beside each other on the same axes, so that what differs between them is what they ask.
 *
 * Undefined unless both have a curve. Both are drawn per 1,000. The numbers stand in the figure of each.
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
  const words = `Both per 1,000 ${first.unitWord}; both axes end at ${layout.values.limit}.`;
  const svg = frameFigure(document, [...legend(document, first), ...panels], {
    ...frame,
    id,
    title,
    description: `${words} Left: ${curveDescription(first)} Right: ${curveDescription(second)}`,
    width: FIGURE_WIDTH,
    height,
  });
  return { fileName: `${id}.svg`, svg };
}

function sharedLayout(pair: readonly Curves[]): CurveLayout {
  const curves = pair.flatMap((exhibit) => drawableCurves(exhibit).map((curve) => ({ curve, exhibit })));
  const shares = curves.flatMap(({ curve }) => [
    ...curve.value,
    ...curve.high.filter((high) => high !== null),
  ]);
  const values = valueAxis(PER * Math.max(...shares), PER / 100, PER);
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
    values,
    x: (year) => LEFT + (year / yearsEnd) * (right - LEFT),
    y: (share) => bottom - ((PER * share) / values.limit) * PLOT_HEIGHT,
  };
}

function heading(document: SvgDocument, exhibit: Curves): SvgNode[] {
  const name = exhibit.risk === "crude" ? "Crude risk, per 1,000" : "Net risk, per 1,000";
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

/** The groups in one line: beside the ends of their lines there is no room for long names. */
function legend(document: SvgDocument, { curves }: Curves): SvgNode[] {
  let x = 0;
  return curves.flatMap(({ label, style }) => {
    const [words = ""] = wrapText(label, FONT_SIZE, 220, 1);
    const nodes = [
      lineSample(document, style, x, 10),
      svgElement(
        document,
        "text",
        { x: x + 30, y: 14, "font-weight": 600, "unicode-bidi": "plaintext" },
        words,
      ),
    ];
    x += 30 + textWidth(words, FONT_SIZE) * 1.12 + 22;
    return nodes;
  });
}
