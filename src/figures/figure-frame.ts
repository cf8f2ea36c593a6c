import { ArgumentError } from "../base/errors.ts";
import { type Attributes, type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { boldWidth, wrapText } from "./text-width.ts";

/** Fonts that come with the reader's system: a figure fetches nothing. */
const FONTS = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif";
export const INK = "#1c2428";
export const QUIET_INK = "#545e63";
const STAMP_INK = "#8a2f12";
/** A stamp has a line of its own above the drawing, so that no stamp is too long. */
export const STAMP_ROOM = 28;

export interface FigureOptions {
  /** Printed inside the figure where the data are invented. */
  readonly stamp?: string;
  /** What the figure shows, in a sentence: part of its name. */
  readonly finding?: string;
}

export interface FrameOptions extends FigureOptions {
  /** The exhibit's id: every id of the figure begins with it. */
  readonly id: string;
  readonly title: string;
  /** What a reader who cannot see the figure needs: the finding and its numbers. */
  readonly description: string;
  readonly width: number;
  readonly height: number;
}

/** Turns a drawing into a figure: name, text alternative, stamp, fonts; the same text for the same drawing. */
export function frameFigure(
  document: SvgDocument,
  drawing: readonly SvgNode[],
  options: FrameOptions,
): string {
  const { id, title, finding, description, width, stamp } = options;
  const height = options.height + (stamp === undefined ? 0 : STAMP_ROOM);
  const prefix = `figure-${identifier(id)}`;
  for (const node of drawing) refuseForeignIds(node);
  const attributes: Attributes = {
    // A saved .svg without its name space shows nothing.
    xmlns: "http://www.w3.org/2000/svg",
    viewBox: `0 0 ${Math.ceil(width)} ${Math.ceil(height)}`,
    width: Math.ceil(width),
    height: Math.ceil(height),
    role: "img",
    "aria-labelledby": `${prefix}-title ${prefix}-description`,
    fill: INK,
    "font-family": FONTS,
    "font-size": 12.5,
  };
  const svg = svgElement(
    document,
    "svg",
    attributes,
    svgElement(
      document,
      "title",
      { id: `${prefix}-title` },
      finding === undefined ? title : `${title}. ${finding}`,
    ),
    svgElement(document, "desc", { id: `${prefix}-description` }, description),
    svgElement(document, "rect", { width: Math.ceil(width), height: Math.ceil(height), fill: "#ffffff" }),
    ...(stamp === undefined ? drawing : stamped(document, drawing, stamp, width)),
  );
  return svg.outerHTML;
}

/** A name fit for an id, from whatever the exhibit is called. */
export function identifier(text: string): string {
  return text.replace(/[^A-Za-z0-9_-]+/g, "-");
}

function stamped(
  document: SvgDocument,
  drawing: readonly SvgNode[],
  stamp: string,
  width: number,
): SvgNode[] {
  const size = 11;
  const [text = ""] = wrapText(stamp, size, (width - 16) / 1.12, 1);
  const box = boldWidth(text, size) + 12;
  const frame = { x: 1, y: 1, width: box, height: 19, stroke: STAMP_INK, fill: "none" };
  const words = { x: 1 + box / 2, y: 14.5, "font-size": size, "font-weight": 700, fill: STAMP_INK };
  return [
    svgElement(document, "rect", frame),
    svgElement(document, "text", { ...words, "text-anchor": "middle" }, text),
    svgElement(document, "g", { transform: `translate(0,${STAMP_ROOM})` }, ...drawing),
  ];
}

function refuseForeignIds(svg: SvgNode): void {
  for (const node of svg.querySelectorAll("[id]")) {
    throw new ArgumentError(
      `figure: an element came with the id "${node.getAttribute("id")}" from a counter of its own; give ids in the frame only`,
    );
  }
}
