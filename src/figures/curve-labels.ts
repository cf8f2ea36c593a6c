import { yearsOfTicks } from "../base/time-unit.ts";
import type { Cleared, ClearedCurve, ClearedCurves } from "../disclosure/cleared.ts";
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
  const lines = drawableCurves(exhibit).map((curve) => ({
    label: curve.label,
    style: curve.style,
    points: [
      ...curve.time.map((tick, step) => ({ x: x(tick), ...heights(curve, step, layout) })),
      // What holds last holds to where the curve ends.
      { x: x(curve.drawnTo), ...heights(curve, curve.time.length - 1, layout) },
    ],
  }));
  return endLabels(document, lines, layout);
}

function heights({ value, low, high }: ClearedCurve, step: number, layout: CurveLayout) {
  const y = layout.y(value[step] ?? 0);
  const [from, to] = [low[step] ?? null, high[step] ?? null];
  return from === null || to === null ? { y } : { y, band: [layout.y(to), layout.y(from)] as const };
}
