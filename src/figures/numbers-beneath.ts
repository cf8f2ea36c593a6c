import type { Cleared, ClearedCell, ClearedCurves, ClearedLandmarks } from "../disclosure/cleared.ts";
import { type CurveLayout, FONT_SIZE, LINE_HEIGHT, SAMPLE_WIDTH } from "./curve-layout.ts";
import { QUIET_INK } from "./figure-frame.ts";
import { landmarkMeasures } from "./landmark-measures.ts";
import { lineStyle } from "./line-style.ts";
import { type SvgDocument, type SvgNode, svgElement } from "./svg-document.ts";
import { wrapText } from "./text-width.ts";

export interface Drawn {
  readonly nodes: readonly SvgNode[];
  /** Where the next thing may begin. */
  readonly bottom: number;
}

/** Under the plot, group by group: at risk, the event so far, out of observation so far, at the years of the ticks. */
export function numbersBeneath(
  document: SvgDocument,
  exhibit: Cleared<ClearedCurves>,
  layout: CurveLayout,
  top: number,
): Drawn {
  const nodes: SvgNode[] = [];
  let y = top;
  for (const row of exhibit.landmarks) {
    nodes.push(groupHeading(document, row, layout, y));
    y += LINE_HEIGHT + 1;
    for (const measure of landmarkMeasures(exhibit, row)) {
      y += LINE_HEIGHT;
      nodes.push(...numberRow(document, measure.label, measure.cells, layout, y));
    }
    y += 9;
  }
  return { nodes, bottom: y };
}

function groupHeading(
  document: SvgDocument,
  row: ClearedLandmarks,
  layout: CurveLayout,
  top: number,
): SvgNode {
  const rule = { x1: 0, x2: layout.right, y1: top, y2: top, stroke: "#c9c4ba", "stroke-width": 0.75 };
  const [label = ""] = wrapText(row.label, FONT_SIZE, layout.width - SAMPLE_WIDTH, 1);
  return svgElement(
    document,
    "g",
    {},
    svgElement(document, "line", rule),
    lineSample(document, row.style, 0, top + LINE_HEIGHT - 4),
    svgElement(
      document,
      "text",
      { x: SAMPLE_WIDTH, y: top + LINE_HEIGHT, "font-weight": 600, "unicode-bidi": "plaintext" },
      label,
    ),
  );
}

function numberRow(
  document: SvgDocument,
  label: string,
  cells: readonly ClearedCell[],
  layout: CurveLayout,
  y: number,
): SvgNode[] {
  const numbers = layout.columns.map(({ at, x }) =>
    svgElement(
      document,
      "text",
      {
        x,
        y,
        "text-anchor": "middle",
        "font-variant": "tabular-nums",
        ...(layout.numberSize === FONT_SIZE ? {} : { "font-size": layout.numberSize }),
      },
      cells[at]?.text ?? "–",
    ),
  );
  return [svgElement(document, "text", { x: 0, y, fill: QUIET_INK }, label), ...numbers];
}

/** A short piece of a group's line, to name it away from its curve. */
export function lineSample(document: SvgDocument, style: number, x: number, y: number): SvgNode {
  const { colour, dashes, width } = lineStyle(style);
  return svgElement(document, "line", {
    x1: x,
    x2: x + SAMPLE_WIDTH - 6,
    y1: y,
    y2: y,
    stroke: colour,
    "stroke-width": width,
    ...(dashes === undefined ? {} : { "stroke-dasharray": dashes }),
  });
}
