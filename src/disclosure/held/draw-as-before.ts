import type { Clearing } from "../clearing.ts";
import { type CurvePlan, standingCounts } from "../curve-plan.ts";
import type { DrawnCurve } from "../curve-steps.ts";

/**
 * The line that the readers hold, once more, where a number that the line must show has changed by a few since.
 *
 * Without such a line, or where it would be drawn anew anyway, undefined.
 */
export function drawAsBefore({ ledger, before }: Clearing, plan: CurvePlan): DrawnCurve | undefined {
  const { curve, groupKey, landmarks, last } = plan;
  const ends = last === undefined ? [] : [last];
  const keys = [...landmarks, ...ends].map((at) => standingCounts(plan, at).events.key);
  if (![groupKey, ...keys].some((key) => ledger.byKey.get(key)?.hidden === "held")) return undefined;
  const line = before.line(curve.label);
  if (line === undefined) return undefined;
  return {
    label: curve.label,
    curve: { ...line, style: curve.style, asBefore: true },
    notDrawn: undefined,
    cut: false,
    stepsMerged: 0,
  };
}
