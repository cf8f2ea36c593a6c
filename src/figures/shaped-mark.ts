import { lineStyle } from "./line-style.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";

const MARK = 4.2;

/** A mark that differs in shape and in fill, so that it is told apart without its colour. */
export function shapedMark(document: SvgDocument, at: number, x: number, y: number): SvgNode {
  const { colour } = lineStyle(at);
  if (at % 2 === 0) {
    return svgElement(document, "circle", {
      cx: x,
      cy: y,
      r: MARK,
      fill: "#ffffff",
      stroke: colour,
      "stroke-width": 1.6,
    });
  }
  return svgElement(document, "rect", {
    x: x - MARK,
    y: y - MARK,
    width: 2 * MARK,
    height: 2 * MARK,
    fill: colour,
  });
}
