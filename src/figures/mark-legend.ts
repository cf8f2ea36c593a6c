import { shapedMark } from "./shaped-mark.ts";
import type { SvgDocument } from "./svg-document.ts";
import type { LegendEntry, LegendLook } from "./under-legend.ts";

export const MARK_LOOK: LegendLook = { sampleWidth: 16 };

/** What each mark stands for. */
export function markLegend(document: SvgDocument, labels: readonly string[]): LegendEntry[] {
  return labels.map((label, at) => ({
    label,
    sample: (x, y) => shapedMark(document, at, x + 6, y - 4),
  }));
}
