import type { LineSubject } from "../disclosure/exhibit.ts";
import { FONT_SIZE, LABEL_GAP, LINE_HEIGHT, labelLines } from "./curve-layout.ts";
import { lineStyle } from "./line-style.ts";
import { type Box, type LabelWish, placeLabels } from "./place-labels.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { boldWidth } from "./text-width.ts";

const HALF_LINE = 3;
/** A label this far from the end of its line is joined to it. */
const LEADER_FROM = 9;

interface Point {
  readonly x: number;
  readonly y: number;
  /** Heights of the interval's upper and lower limit, where one is shaded. */
  readonly band?: readonly [number, number];
}

/** A line as it is drawn, in pixels, from left to right. */
export interface DrawnLine {
  readonly label: string;
  readonly style: number;
  readonly of?: LineSubject;
  readonly points: readonly Point[];
}

/** A mark where each line ends, and its name beside it. */
export function endLabels(
  document: SvgDocument,
  lines: readonly DrawnLine[],
  { top, bottom }: { readonly top: number; readonly bottom: number },
): SvgNode[] {
  const wishes = lines.map((line) => wishFor(line, lines));
  const centres = placeLabels(wishes, top - 10, bottom + 6);
  return lines.map((line, at) => oneLabel(document, line, centres[at] ?? endOf(line).y));
}

function endOf({ points }: DrawnLine): Point {
  return points.at(-1) ?? { x: 0, y: 0 };
}

function wishFor(line: DrawnLine, all: readonly DrawnLine[]): LabelWish {
  const words = labelLines(line.label);
  const end = endOf(line);
  const others = all.filter((other) => other !== line);
  return {
    x: end.x + LABEL_GAP,
    y: end.y,
    width: Math.max(...words.map((word) => boldWidth(word, FONT_SIZE))),
    height: Math.max(1, words.length) * LINE_HEIGHT,
    obstacles: others.flatMap(linePieces),
    shading: others.flatMap(bandPieces),
  };
}

/** The pieces between points as thin boxes. */
function linePieces({ points }: DrawnLine): Box[] {
  return points.slice(1).map((next, at) => {
    const point = points[at] ?? next;
    return {
      left: point.x,
      right: next.x,
      top: Math.min(point.y, next.y) - HALF_LINE,
      bottom: Math.max(point.y, next.y) + HALF_LINE,
    };
  });
}

function bandPieces({ points }: DrawnLine): Box[] {
  return points.slice(1).flatMap((next, at): Box[] => {
    const point = points[at] ?? next;
    const heights = [...(point.band ?? []), ...(next.band ?? [])];
    if (heights.length === 0) return [];
    return [{ left: point.x, right: next.x, top: Math.min(...heights), bottom: Math.max(...heights) }];
  });
}

function oneLabel(document: SvgDocument, line: DrawnLine, centre: number): SvgNode {
  const { colour, width } = lineStyle(line.style, line.of);
  const end = endOf(line);
  const lines = labelLines(line.label);
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
