import type { Answer } from "../../../base/answer.ts";
import type { Cell, Count } from "../../../disclosure/exhibit.ts";
import type { ProportionInterval } from "../../../summaries/proportion-interval.ts";
import { noCell } from "../../sections/cells.ts";
import type { ShareBounds, StepShares } from "../step-shares.ts";
import type { StepCounts } from "./step-counts.ts";

/** Share and limits in per cent: "96.1 % (95.2 to 96.8)". */
export function intervalCell(share: ProportionInterval, restsOn: readonly Count[]): Cell {
  if (!share.computed) return noCell(share, restsOn);
  return {
    kind: "numbers",
    form: "{0} % ({1} to {2})",
    values: [share.share, share.low, share.high].map(percent),
    decimals: 1,
    restsOn,
  };
}

/** Lowest and highest share, whatever was not written down: "91.0 to 97.4 %". */
export function boundsCell(
  bounds: Answer<Pick<ShareBounds, "lowest" | "highest">>,
  restsOn: readonly Count[],
): Cell {
  if (!bounds.computed) return noCell(bounds, restsOn);
  return {
    kind: "numbers",
    form: "{0} to {1} %",
    values: [bounds.lowest, bounds.highest].map(percent),
    decimals: 1,
    restsOn,
  };
}

/** Done among those recorded, in whole per cent. */
export function doneCell(
  { share }: StepShares,
  { done, notDone }: StepCounts,
  more: readonly Count[] = [],
): Cell {
  const restsOn = [done, notDone, ...more];
  if (!share.computed) return noCell(share, restsOn);
  return wholePercent(share.share, restsOn);
}

/** Recorded among those where the step applies, in whole per cent. */
export function recordedCell(counts: StepCounts, more: readonly Count[] = []): Cell {
  const { recorded, notRecorded, applicable } = counts;
  const restsOn = [recorded, notRecorded, ...more];
  if (applicable.units === 0) return { kind: "none", because: "the step applies nowhere", restsOn };
  return wholePercent(recorded.units / applicable.units, restsOn);
}

function wholePercent(share: number, restsOn: readonly Count[]): Cell {
  return { kind: "number", value: percent(share), decimals: 0, suffix: " %", restsOn };
}

function percent(share: number): number {
  return 100 * share;
}
