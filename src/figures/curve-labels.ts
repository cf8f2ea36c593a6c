import { yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurve, ClearedCurves } from "../disclosure/cleared.ts";
import { readCurve } from "../disclosure/read-curve.ts";
import {
  type CurveLayout,
  drawableCurves,
  FONT_SIZE,
  LABEL_GAP,
  LINE_HEIGHT,
  labelLines,
} from "./curve-layout.ts";
import { lineStyle } from "./line-style.ts";
import { type Box, type LabelWish, placeLabels } from "./place-labels.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { boldWidth } from "./text-width.ts";

const HALF_LINE = 3;
/** A label this far from the end of its curve is joined to it. */
const LEADER_FROM = 9;

/** A mark where each curve ends, and its name beside it. */
export function curveLabels(
  document: SvgDocument,
  exhibit: Cleared<ClearedCurves>,
  layout: CurveLayout,
): SvgNode[] {
  const curves = drawableCurves(exhibit);
  const ends = curves.map((curve) => endOf(curve, exhibit, layout));
  const wishes = curves.map((curve, at) =>
    wishFor(curve, ends[at] ?? { x: 0, y: 0 }, curves, exhibit, layout),
  );
  const centres = placeLabels(wishes, layout.top - 10, layout.bottom + 6);
  return curves.map((curve, at) => {
    const end = ends[at] ?? { x: 0, y: 0 };
    return oneLabel(document, curve, end, centres[at] ?? end.y);
  });
}

interface Point {
  readonly x: number;
  readonly y: number;
}

function endOf(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>, layout: CurveLayout): Point {
  return {
    x: layout.x(yearsOfTicks(curve.drawnTo, exhibit.timeUnit)),
    y: layout.y(readCurve(curve, curve.drawnTo)?.value ?? 0),
  };
}

function wishFor(
  curve: ClearedCurve,
  end: Point,
  curves: readonly ClearedCurve[],
  exhibit: Cleared<ClearedCurves>,
  layout: CurveLayout,
): LabelWish {
  const lines = labelLines(curve.label);
  const width = Math.max(...lines.map((line) => boldWidth(line, FONT_SIZE)));
  return {
    x: end.x + LABEL_GAP,
    y: end.y,
    width,
    height: Math.max(1, lines.length) * LINE_HEIGHT,
    obstacles: curves
      .filter((other) => other !== curve)
      .flatMap((other) => linePieces(other, exhibit, layout)),
  };
}

/** The level pieces of a step line as thin boxes; the risers lie at their ends. */
function linePieces(curve: ClearedCurve, exhibit: Cleared<ClearedCurves>, layout: CurveLayout): Box[] {
  const x = (tick: number) => layout.x(yearsOfTicks(tick, exhibit.timeUnit));
  return curve.time.map((time, step) => {
    const y = layout.y(curve.value[step] ?? 0);
    const next = layout.y(curve.value[step + 1] ?? curve.value[step] ?? 0);
    return {
      left: x(time),
      right: x(curve.time[step + 1] ?? curve.drawnTo),
      top: Math.min(y, next) - HALF_LINE,
      bottom: y + HALF_LINE,
    };
  });
}

function oneLabel(document: SvgDocument, curve: ClearedCurve, end: Point, centre: number): SvgNode {
  const { colour, width } = lineStyle(curve.style);
  const lines = labelLines(curve.label);
  const first = centre - ((lines.length - 1) * LINE_HEIGHT) / 2 + FONT_SIZE * 0.35;
  const text = lines.map((line, at) =>
    svgElement(
      document,
      "text",
      {
        x: end.x + LABEL_GAP,
        y: first + at * LINE_HEIGHT,
        "font-weight": 600,
        stroke: "#ffffff",
        "stroke-width": 3.5,
        "stroke-linejoin": "round",
        "paint-order": "stroke",
        "unicode-bidi": "plaintext",
      },
      line,
    ),
  );
  const mark = svgElement(document, "line", {
    x1: end.x,
    x2: end.x,
    y1: end.y - 4.5,
    y2: end.y + 4.5,
    stroke: colour,
    "stroke-width": width,
  });
  const leader =
    Math.abs(centre - end.y) < LEADER_FROM
      ? []
      : [
          svgElement(document, "path", {
            d: `M${round(end.x)},${round(end.y)}L${round(end.x + LABEL_GAP - 2)},${round(centre)}`,
            stroke: colour,
            "stroke-width": 0.9,
            fill: "none",
          }),
        ];
  return svgElement(document, "g", {}, mark, ...leader, ...text);
}

function round(value: number): number {
  return Number(value.toFixed(2));
}
