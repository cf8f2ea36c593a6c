import type { CountsByTime, CountsCell } from "./counts.ts";

/** One group's counts over all its strata, as the estimators take them and as a reader may be shown them. */
export interface RiskSteps {
  readonly group: string;
  readonly cases: number;
  readonly time: Int32Array;
  /** Weighted where there are weights: what an estimate is made of. */
  readonly atRisk: Float64Array;
  readonly events: readonly Float64Array[];
  readonly censored: Float64Array;
  /** Rows, or copies where weights are copies: what a table may show and an exact limit may count. */
  readonly shown: {
    readonly atRisk: Float64Array;
    readonly events: readonly Float64Array[];
    readonly censored: Float64Array;
  };
}

interface Series {
  readonly atRisk: Float64Array;
  readonly events: readonly Float64Array[];
  readonly censored: Float64Array;
}

/** Adds the strata of one group. Between its own ticks a stratum has as many at risk as at its next one. */
export function riskSteps(counts: CountsByTime, group: number): RiskSteps {
  const cells = counts.cells.filter((cell) => cell.group === group);
  const time = allTicks(cells);
  const rows = addedUp(cells, time, counts.causes.length, (cell) => cell);
  const taken = addedUp(cells, time, counts.causes.length, (cell) => cell.weighted ?? cell);
  return {
    group: counts.groups[group] ?? "",
    cases: cells.reduce((sum, cell) => sum + cell.cases, 0),
    time,
    ...taken,
    shown: counts.weightKind === "copies" ? taken : rows,
  };
}

/** How many of `time` lie at or before a tick. */
export function stepsUpTo(time: ArrayLike<number>, tick: number): number {
  let [low, high] = [0, time.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((time[middle] ?? 0) <= tick) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** At risk at any tick: nothing happens between two steps, so the next step's count holds. */
export function atRiskAt(time: ArrayLike<number>, atRisk: ArrayLike<number>, tick: number): number {
  return atRisk[stepsUpTo(time, tick - 1)] ?? 0;
}

function allTicks(cells: readonly CountsCell[]): Int32Array {
  const [only] = cells;
  if (cells.length === 1 && only !== undefined) return only.time;
  return Int32Array.from(new Set(cells.flatMap((cell) => [...cell.time]))).sort();
}

function addedUp(
  cells: readonly CountsCell[],
  time: Int32Array,
  causes: number,
  series: (cell: CountsCell) => Series,
): Series {
  const atRisk = new Float64Array(time.length);
  const censored = new Float64Array(time.length);
  const events = Array.from({ length: causes }, () => new Float64Array(time.length));
  for (const cell of cells) {
    const from = series(cell);
    let next = 0;
    for (let step = 0; step < time.length; step++) {
      atRisk[step]! += from.atRisk[next] ?? 0;
      if (cell.time[next] !== time[step]) continue;
      censored[step]! += from.censored[next] ?? 0;
      for (let cause = 0; cause < causes; cause++) events[cause]![step]! += from.events[cause]?.[next] ?? 0;
      next++;
    }
  }
  return { atRisk, events, censored };
}
