import { yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurves } from "../disclosure/cleared.ts";
import { type CurveLayout, drawableCurves } from "./curve-layout.ts";
import { endLabels } from "./end-labels.ts";
import type { SvgDocument, SvgNode } from "./svg-document.ts";

/** A mark where each curve ends, and its name beside it. */
export function curveLabels(
  document: SvgDocument,
  exhibit: Cleared<ClearedCurves>,
  layout: CurveLayout,
): SvgNode[] {
  const x = (tick: number) => layout.x(yearsOfTicks(tick, exhibit.timeUnit));
  const lines = drawableCurves(exhibit).map(({ label, style, time, value, drawnTo }) => ({
    label,
    style,
    points: [
      ...time.map((tick, step) => ({ x: x(tick), y: layout.y(value[step] ?? 0) })),
      // What holds last holds to where the curve ends.
      { x: x(drawnTo), y: layout.y(value.at(-1) ?? 0) },
    ],
  }));
  return endLabels(document, lines, layout);
}
