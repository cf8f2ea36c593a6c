import { INK } from "./figure-frame.ts";
import { type Attributes, type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";

const MARK = 4.2;

/**
 * A mark that differs in shape and in fill: circle, square, triangle, diamond. In ink unless it stands for a group:
 * colours are the groups' own, and a comparison of two has none.
 */
export function shapedMark(document: SvgDocument, at: number, x: number, y: number, colour = INK): SvgNode {
  const hollow = { fill: "#ffffff", stroke: colour, "stroke-width": 1.6 };
  const path = (d: string, look: Attributes) => svgElement(document, "path", { d, ...look });
  const [wide, high] = [MARK * 1.15, MARK * 1.3];
  switch (at % 4) {
    case 0:
      return svgElement(document, "circle", { cx: x, cy: y, r: MARK, ...hollow });
    case 1:
      return svgElement(document, "rect", {
        x: x - MARK,
        y: y - MARK,
        width: 2 * MARK,
        height: 2 * MARK,
        fill: colour,
      });
    case 2:
      return path(
        outline([
          [x, y - high],
          [x + wide, y + MARK],
          [x - wide, y + MARK],
        ]),
        hollow,
      );
    default:
      return path(
        outline([
          [x, y - high],
          [x + high, y],
          [x, y + high],
          [x - high, y],
        ]),
        { fill: colour },
      );
  }
}

function outline(corners: readonly (readonly [number, number])[]): string {
  return `M${corners.map((corner) => corner.map((value) => Number(value.toFixed(2))).join(",")).join("L")}Z`;
}
