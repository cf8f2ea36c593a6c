import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { boldWidth, textWidth, wrapText } from "./text-width.ts";

const [BASELINE, LINE_HEIGHT, GAP] = [15, 20, 22];

export interface LegendEntry {
  readonly label: string;
  /** Drawn with its left end at `x`, beside words whose baseline is `y`. */
  sample(x: number, y: number): SvgNode;
}

export interface LegendLook {
  /** The sample and the gap after it. */
  readonly sampleWidth: number;
  readonly isBold?: boolean;
}

/**
 * A drawing with its legend at the top: side by side while the names fit, then in further lines.
 *
 * The drawing has left room for one line; further ones move it down by `extra`.
 */
export function underLegend(
  document: SvgDocument,
  entries: readonly LegendEntry[],
  { sampleWidth, isBold = false }: LegendLook,
  drawing: readonly SvgNode[],
): { readonly nodes: readonly SvgNode[]; readonly extra: number } {
  const widthOf = isBold ? boldWidth : textWidth;
  const room = (FIGURE_WIDTH - sampleWidth) / (widthOf("m", FONT_SIZE) / textWidth("m", FONT_SIZE));
  let [x, line] = [0, 0];
  const legend = entries.flatMap(({ label, sample }) => {
    const [words = ""] = wrapText(label, FONT_SIZE, room, 1);
    const width = sampleWidth + widthOf(words, FONT_SIZE);
    if (x > 0 && x + width > FIGURE_WIDTH) [x, line] = [0, line + 1];
    const [left, y] = [x, BASELINE + line * LINE_HEIGHT];
    x += width + GAP;
    const look = { "unicode-bidi": "plaintext", ...(isBold ? { "font-weight": 600 } : {}) };
    return [sample(left, y), svgElement(document, "text", { x: left + sampleWidth, y, ...look }, words)];
  });
  if (line === 0) return { nodes: [...legend, ...drawing], extra: 0 };
  const extra = line * LINE_HEIGHT;
  const moved = svgElement(document, "g", { transform: `translate(0,${extra})` }, ...drawing);
  return { nodes: [...legend, moved], extra };
}
