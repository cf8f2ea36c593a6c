import { parseHTML } from "linkedom";
import { ArgumentError } from "../base/errors.ts";

const SVG_NAMESPACE = "http://www.w3.org/2000/svg";

/** The little of a document node that figures use: the project compiles without the DOM library. */
export interface SvgNode {
  readonly tagName: string;
  readonly outerHTML: string;
  readonly children: Iterable<SvgNode>;
  readonly attributes: Iterable<{ readonly name: string; readonly value: string }>;
  getAttribute(name: string): string | null;
  setAttribute(name: string, value: string): void;
  removeAttribute(name: string): void;
  append(...children: readonly (SvgNode | string)[]): void;
  prepend(...children: readonly (SvgNode | string)[]): void;
  remove(): void;
  querySelectorAll(selector: string): Iterable<SvgNode>;
}

export interface SvgDocument {
  createElementNS(namespace: string, name: string): SvgNode;
}

export type Attributes = Readonly<Record<string, string | number>>;

/** A new empty document: figures share nothing, so none can leave a trace in the next. */
export function svgDocument(): SvgDocument {
  // linkedom types its document with the DOM library, which this project leaves out.
  return parseHTML("<html><body></body></html>").document as unknown as SvgDocument;
}

/** An SVG element. Text children and attribute values are escaped by the document, and nowhere else. */
export function svgElement(
  document: SvgDocument,
  name: string,
  attributes: Attributes = {},
  ...children: readonly (SvgNode | string)[]
): SvgNode {
  const node = document.createElementNS(SVG_NAMESPACE, name);
  setAttributes(node, attributes);
  node.append(...children.map((child) => (typeof child === "string" ? printable(child) : child)));
  return node;
}

export function setAttributes(node: SvgNode, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes)) {
    node.setAttribute(name, typeof value === "number" ? coordinate(value) : printable(value));
  }
}

/** Two decimals of a pixel: finer digits differ between engines and show nothing. */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) {
    throw new ArgumentError(`figure: a coordinate must be a finite number; received ${value}`);
  }
  return String(Number(value.toFixed(2)));
}

/** Control characters, lone surrogates and the two non-characters make an SVG file unreadable. */
function printable(text: string): string {
  return text.replace(/(?![\t\n\r])[\p{Control}\p{Surrogate}\ufffe\uffff]/gu, "\ufffd");
}
