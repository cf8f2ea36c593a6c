import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { type TimeUnit, yearsOfTicks } from "../base/time-unit.ts";
import { checkObservations } from "./check-observations.ts";
import type { ObservationColumns } from "./observations.ts";

export interface Completeness {
  readonly kind: "completeness";
  readonly timeUnit: TimeUnit;
  readonly groups: readonly {
    readonly group: string;
    readonly rows: number;
    readonly observedYears: number;
    readonly possibleYears: number;
    /** Observed over possible time, between 0 and 1. */
    readonly share: Answer<{ readonly share: number }>;
  }[];
}

/**
 * How much of the follow-up that was possible was observed, by group.
 *
 * `possible` holds the tick of each row's event, death or data cut: what its exit would have been had nobody been lost.
 * Time starts at entry. Rows count once, whatever their weight. A row observed for longer than was possible contradicts
 * itself and is refused.
 *
 * Source: Clark, Altman and De Stavola 2002.
 *
 * @example
 * completeness({ exit: [5, 3], event: [1, 0], timeUnit: TIME_UNITS.year }, [5, 6]).groups[0]; // 8 of 11 years: 0.727
 */
export function completeness(columns: ObservationColumns, possible: ArrayLike<number>): Completeness {
  const observations = checkObservations(columns);
  const { rows, exit, entry, group, timeUnit } = observations;
  if (possible.length !== rows) {
    throw new ArgumentError(`completeness: possible has ${possible.length} elements and exit has ${rows}`);
  }
  const sums = group.labels.map(() => ({ rows: 0, observed: 0, possible: 0 }));
  for (let row = 0; row < rows; row++) {
    const start = Math.max(0, entry?.[row] ?? 0);
    const [seen, end] = [(exit[row] ?? 0) - start, (possible[row] ?? Number.NaN) - start];
    // Written so that NaN fails as well.
    if (!(end >= seen)) {
      throw new ArgumentError(
        `completeness: row ${row + 1}, possible: must be a tick not before the row's exit`,
      );
    }
    const sum = sums[group.codes[row] ?? 0];
    if (sum === undefined) continue;
    sum.rows += 1;
    sum.observed += seen;
    sum.possible += end;
  }
  return {
    kind: "completeness",
    timeUnit,
    groups: sums.map((sum, place) => ({
      group: group.labels[place] ?? "",
      rows: sum.rows,
      observedYears: yearsOfTicks(sum.observed, timeUnit),
      possibleYears: yearsOfTicks(sum.possible, timeUnit),
      share:
        sum.possible > 0
          ? computed({ share: sum.observed / sum.possible })
          : notComputed("no-possible-time", "nobody in this group could have been followed for any time"),
    })),
  };
}
