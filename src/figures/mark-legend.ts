import { FONT_SIZE } from "./curve-layout.ts";
import { shapedMark } from "./shaped-mark.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { textWidth } from "./text-width.ts";

/** What each mark stands for, in one line at the top of a figure. */
export function markLegend(document: SvgDocument, labels: readonly string[]): SvgNode[] {
  let x = 0;
  return labels.flatMap((label, at) => {
    const nodes = [
      shapedMark(document, at, x + 6, 12),
      svgElement(document, "text", { x: x + 16, y: 16 }, label),
    ];
    x += 16 + textWidth(label, FONT_SIZE) + 24;
    return nodes;
  });
}
