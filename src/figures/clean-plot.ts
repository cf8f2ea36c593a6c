import { coordinate, type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";

/** Attributes that hold a page's state or a library's name, and mean nothing in a saved figure. */
const DROPPED = ["class", "style", "aria-label", "aria-hidden", "aria-description"] as const;

/**
 * The drawing inside a plot as a plain group: no style sheet (a strict content policy would refuse it), no names
 * read out one by one (the whole figure has one), and no digits beyond a hundredth of a pixel.
 *
 * No clip path is asked for, so none of Plot's process-wide ids can come in; the frame refuses ids it did not give.
 */
export function cleanPlot(document: SvgDocument, plot: SvgNode): SvgNode {
  for (const style of [...plot.querySelectorAll("style")]) style.remove();
  for (const node of plot.querySelectorAll("*")) {
    for (const name of DROPPED) node.removeAttribute(name);
    for (const { name, value } of [...node.attributes]) {
      if (/\.\d{3}/.test(value)) node.setAttribute(name, rounded(value));
    }
  }
  // Plot centres text unless a mark says otherwise.
  return svgElement(document, "g", { "text-anchor": "middle" }, ...plot.children);
}

function rounded(value: string): string {
  return value.replace(/-?\d+\.\d{3,}/g, (digits) => coordinate(Number(digits)));
}
