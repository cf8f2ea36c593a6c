import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requirePositive } from "../numeric/argument-checks.ts";
import { rootBetween } from "../numeric/root-between.ts";
import { eventShare } from "./event-share.ts";

export interface YearsRequiredInput {
  /** Events wanted, both groups together. */
  readonly events: number;
  /** Units that come in each year. */
  readonly unitsPerYear: number;
  /** Hazard of the event, groups together, per year. */
  readonly hazardPerYear: number;
  /** Hazard of leaving without the event, per year. Default 0. */
  readonly lossPerYear?: number;
  /** Years beyond which nobody waits. Default 100. */
  readonly longestYears?: number;
}

export type YearsRequired = Answer<{
  /** From the first unit to the analysis. */
  readonly years: number;
  /** Whole units that have come in by then, rounded up. */
  readonly units: number;
  readonly settings: Required<YearsRequiredInput>;
}>;

/**
 * How many years a place must go on at its own volume until enough events are expected.
 *
 * Units come in evenly from the first day to the analysis; hazards are constant. No answer where it takes longer than
 * anybody waits, and none without a hazard or a volume: an infinite number is never given.
 *
 * @example
 * yearsRequired({ events: 66, unitsPerYear: 300, hazardPerYear: 0.0011, lossPerYear: 0.03 }); // 22.3 years, 6,692 units
 */
export function yearsRequired(input: YearsRequiredInput): YearsRequired {
  const { events, unitsPerYear, hazardPerYear, lossPerYear = 0, longestYears = 100 } = input;
  requirePositive("yearsRequired", "events", events);
  requirePositive("yearsRequired", "longestYears", longestYears);
  for (const [name, value] of Object.entries({ unitsPerYear, hazardPerYear, lossPerYear })) {
    if (!Number.isFinite(value) || value < 0) {
      throw new ArgumentError(`yearsRequired: ${name} must be a finite number from 0 up; received ${value}`);
    }
  }
  if (unitsPerYear === 0) return notComputed("no-units", "no units come in");
  if (hazardPerYear === 0) return notComputed("no-events", "no events, so none can be expected");
  const missing = (years: number) =>
    years === 0
      ? -events
      : years *
          unitsPerYear *
          eventShare(hazardPerYear, { accrualYears: years, followUpYears: 0, lossPerYear }) -
        events;
  if (missing(longestYears) < 0) {
    return notComputed("too-long", `more than ${longestYears} years at this volume`);
  }
  const years = rootBetween(missing, 0, longestYears).root;
  return computed({
    years,
    units: Math.ceil(years * unitsPerYear),
    settings: { events, unitsPerYear, hazardPerYear, lossPerYear, longestYears },
  });
}
