import { ArgumentError } from "../base/errors.ts";
import { tickOfYear } from "../base/time-unit.ts";
import type { CountsByTime } from "./counts.ts";
import { type CurveOptions, kaplanMeier } from "./kaplan-meier.ts";
import type { SurvivalCurve } from "./results.ts";

export interface ConditionalSurvivalOptions extends Omit<CurveOptions, "from"> {
  /** Years already passed without the event. */
  readonly givenYear: number;
}

/**
 * Share still without the event at later times among those without it at a given year.
 *
 * "An implant unrevised at 2 years: how likely is it to last to 10?" Kaplan–Meier of those at risk after the last whole
 * tick within `givenYear`, so it is survival at the later time over survival at the given one, and its variance is that of
 * the later part alone. Years and ticks still count from the operation.
 *
 * @example
 * const counts = countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0], timeUnit: TIME_UNITS.year });
 * conditionalSurvival(counts, { givenYear: 1 }).groups[0]?.survival; // [0.75, 0.375, 0.375]
 */
export function conditionalSurvival(
  counts: CountsByTime,
  options: ConditionalSurvivalOptions,
): SurvivalCurve {
  const { givenYear, ...rest } = options;
  // Written so that NaN fails as well.
  if (!(givenYear >= 0)) {
    throw new ArgumentError(`conditionalSurvival: givenYear must not be negative; received ${givenYear}`);
  }
  const early = (rest.years ?? []).filter((year) => year < givenYear);
  if (early.length > 0) {
    throw new ArgumentError(
      `conditionalSurvival: years must not lie before givenYear; received ${early.join(", ")}`,
    );
  }
  return kaplanMeier(counts, { ...rest, from: tickOfYear(givenYear, counts.timeUnit) });
}
