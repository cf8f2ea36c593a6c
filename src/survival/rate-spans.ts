import { ArgumentError } from "../base/errors.ts";
import { type TimeUnit, tickOfYear } from "../base/time-unit.ts";

/** A period of follow-up: ticks after `from`, up to and including `to`. */
export interface RateSpan {
  readonly fromYear: number;
  /** Null = no upper end. */
  readonly toYear: number | null;
  readonly from: number;
  readonly to: number;
}

/** Periods (a, b] from their upper ends in years, the last one open; the first takes in tick 0. */
export function rateSpans(where: string, periods: readonly number[], unit: TimeUnit): RateSpan[] {
  const ends = [...periods.map((year) => ({ year, tick: tickOfYear(year, unit) })), undefined];
  return ends.map((end, index) => {
    const start = ends[index - 1] ?? { year: 0, tick: Number.NEGATIVE_INFINITY };
    const span = {
      fromYear: start.year,
      toYear: end?.year ?? null,
      from: start.tick,
      to: end?.tick ?? Number.POSITIVE_INFINITY,
    };
    // Written so that NaN fails as well.
    if (!(span.to > Math.max(0, span.from)) || span.toYear === Number.POSITIVE_INFINITY) {
      throw new ArgumentError(
        `${where}: periods must be finite years above 0 in ascending order, at least one ${unit.word} apart; received ${periods.join(", ")}`,
      );
    }
    return span;
  });
}

/** Ticks of a stay (entry, exit] that fall into a period. */
export function ticksInSpan(entry: number, exit: number, span: RateSpan): number {
  return Math.max(0, Math.min(exit, span.to) - Math.max(0, entry, span.from));
}

/** Whether an event on a tick belongs to a period. */
export function isInSpan(tick: number, span: RateSpan): boolean {
  return tick > span.from && tick <= span.to;
}
