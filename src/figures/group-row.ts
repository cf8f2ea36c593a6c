import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { lineStyle } from "./line-style.ts";
import { shapedMark } from "./shaped-mark.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { wrapText } from "./text-width.ts";

/** The name of a row: a group's behind its mark, a heading's in bold without one. */
export function groupRow(
  document: SvgDocument,
  { label, style }: { readonly label: string; readonly style: number | undefined },
  y: number,
  left: number,
): SvgNode[] {
  const isHeading = style === undefined;
  const [words = ""] = wrapText(label, FONT_SIZE, isHeading ? FIGURE_WIDTH - 8 : left - 34, 1);
  const name = svgElement(
    document,
    "text",
    {
      x: isHeading ? 0 : 24,
      y: y + FONT_SIZE * 0.35,
      "unicode-bidi": "plaintext",
      ...(isHeading ? { "font-weight": 600 } : {}),
    },
    words,
  );
  return isHeading ? [name] : [shapedMark(document, style, 10, y, lineStyle(style).colour), name];
}
