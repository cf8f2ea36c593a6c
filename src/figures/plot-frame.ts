import type { SvgDocument } from "./svg-document.ts";

/** The frame of a plot inside its figure: the document it is made in, its size, and the room around it. */
export function plotFrame(
  document: SvgDocument,
  layout: Readonly<Record<"width" | "left" | "right" | "top" | "bottom", number>>,
  height: number,
) {
  return {
    // Plot's types name the DOM's document, which this project compiles without.
    document: document as never,
    width: layout.width,
    height,
    marginLeft: layout.left,
    marginRight: layout.width - layout.right,
    marginTop: layout.top,
    marginBottom: height - layout.bottom,
  };
}
