import type { Clearing } from "../clearing.ts";
import { type CurvePlan, standingCounts } from "../curve-plan.ts";
import type { DrawnCurve } from "../curve-steps.ts";
import { whyHidden } from "../ledger.ts";

/**
 * The line that the readers hold, once more, where a number that the line must show has changed by a few since.
 *
 * Without such a line, where it would be drawn anew anyway, or where something else speaks against a line, undefined.
 */
export function drawAsBefore({ ledger, before }: Clearing, plan: CurvePlan): DrawnCurve | undefined {
  const { curve, groupKey, landmarks, last } = plan;
  const ends = last === undefined ? [] : [last];
  const standings = [...landmarks, ...ends].filter(({ tick }) => tick > 0);
  const counts = [
    { key: groupKey, units: curve.units },
    ...standings.map((at) => standingCounts(plan, at).events),
  ].filter(({ key }) => ledger.byKey.has(key));
  if (whyHidden(ledger, counts) !== "held") return undefined;
  const line = before.line(curve.label, counts);
  if (line === undefined) return undefined;
  return {
    label: curve.label,
    curve: { ...line, style: curve.style, asBefore: true },
    notDrawn: undefined,
    cut: false,
    stepsMerged: 0,
  };
}
