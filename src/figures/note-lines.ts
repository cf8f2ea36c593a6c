import { FIGURE_WIDTH, FONT_SIZE, LINE_HEIGHT } from "./curve-layout.ts";
import { QUIET_INK } from "./figure-frame.ts";
import { type SvgDocument, svgElement } from "./svg-document.ts";
import { wrapText } from "./text-width.ts";

/** A note under a figure in as many lines as it needs, and where it ends. */
export function noteLines(document: SvgDocument, words: string, top: number) {
  const lines = wrapText(words, FONT_SIZE - 1, FIGURE_WIDTH, 6);
  const nodes = lines.map((line, at) =>
    svgElement(
      document,
      "text",
      { x: 0, y: top + at * LINE_HEIGHT, fill: QUIET_INK, "font-size": FONT_SIZE - 1 },
      line,
    ),
  );
  return { nodes, bottom: top + (lines.length - 1) * LINE_HEIGHT + 8 };
}
