import { type RiskCells, runningSums } from "./cox-cells.ts";
import type { CellSums } from "./cox-sums.ts";

/** How events on one tick share their risk set. */
export const SAME_DAY_RULES = ["efron", "breslow", "exact"] as const;
export type SameDayRule = (typeof SAME_DAY_RULES)[number];

/**
 * What each cell contributes, in all sums that a fit needs.
 *
 * The d events of a tick leave one after the other, the q-th (from 0) when a share f = q/d of all of them has left:
 * a = at risk − f · failing, each with the mean weight w of the d. Under "breslow" f = 0.
 */
export interface CellTerms {
  readonly rule: Exclude<SameDayRule, "exact">;
  /** −Σ w log a over all cells. */
  readonly logLikelihood: number;
  /** Σ w / a: the step of the baseline hazard. */
  readonly hazard: Float64Array;
  /** Σ f w / a: by how much an event of the tick is exposed to less. */
  readonly spared: Float64Array;
  /** Σ w / a², Σ f w / a², Σ f² w / a². */
  readonly square: Float64Array;
  readonly squareSpared: Float64Array;
  readonly squareSparedTwice: Float64Array;
  /** Running sums of `hazard`. */
  readonly cumulative: Float64Array;
}

export function cellTerms(
  rule: Exclude<SameDayRule, "exact">,
  cells: RiskCells,
  { atRisk, failing }: CellSums,
): CellTerms {
  const series = () => new Float64Array(cells.count);
  const [hazard, spared, square, squareSpared, squareSparedTwice] = [
    series(),
    series(),
    series(),
    series(),
    series(),
  ];
  let logLikelihood = 0;
  for (let cell = 0; cell < cells.count; cell += 1) {
    const events = cells.events[cell]!;
    if (events === 0) continue;
    const turns = rule === "efron" ? events : 1;
    const weight = cells.eventWeight[cell]! / turns;
    for (let turn = 0; turn < turns; turn += 1) {
      const share = turn / turns;
      const left = atRisk[cell]! - share * failing[cell]!;
      const rate = weight / left;
      logLikelihood -= weight * Math.log(left);
      hazard[cell]! += rate;
      spared[cell]! += share * rate;
      square[cell]! += rate / left;
      squareSpared[cell]! += (share * rate) / left;
      squareSparedTwice[cell]! += (share * share * rate) / left;
    }
  }
  const cumulative = runningSums(cells, hazard);
  return { rule, logLikelihood, hazard, spared, square, squareSpared, squareSparedTwice, cumulative };
}
