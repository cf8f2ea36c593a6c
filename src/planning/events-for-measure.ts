import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requirePositive } from "../numeric/argument-checks.ts";
import { type DetectionSettings, detection } from "./detection.ts";

export interface MeasureInput extends DetectionSettings {
  /** Hazard ratio for one unit more of the measure, such as a millimetre. */
  readonly hazardRatio: number;
  /** How far the measure spreads, in the same unit. */
  readonly standardDeviation: number;
  /** Share of the measure's variance that the adjusters explain, from 0 to below 1. Default 0. */
  readonly explainedShare?: number;
}

export type EventsForMeasure = Answer<{
  /** Whole events, rounded up. */
  readonly events: number;
  readonly unrounded: number;
  readonly settings: Required<MeasureInput>;
}>;

/**
 * How many events are needed to see that the hazard changes with a measure, such as a depth in millimetres.
 *
 * Proportional hazards, linear on the log scale. No answer for a ratio of 1. Source: Hsieh and Lavori 2000.
 *
 * @example
 * eventsForMeasure({ hazardRatio: 0.8, standardDeviation: 1.1 }); // 131 events for a fifth less a millimetre
 */
export function eventsForMeasure(input: MeasureInput): EventsForMeasure {
  const { hazardRatio, standardDeviation, explainedShare = 0 } = input;
  requirePositive("eventsForMeasure", "hazardRatio", hazardRatio);
  requirePositive("eventsForMeasure", "standardDeviation", standardDeviation);
  if (!(explainedShare >= 0 && explainedShare < 1)) {
    throw new ArgumentError(
      `eventsForMeasure: explainedShare must be at least 0 and below 1; received ${explainedShare}`,
    );
  }
  const { settings, toLimit, toTruth } = detection("eventsForMeasure", input);
  if (hazardRatio === 1) return notComputed("no-difference", "a ratio of 1 is no difference to be seen");
  const spread = standardDeviation * Math.log(hazardRatio);
  const distance = toLimit + toTruth;
  const unrounded = (distance * distance) / (spread * spread * (1 - explainedShare));
  if (!Number.isFinite(unrounded)) return notComputed("out-of-range", "more events than can be counted");
  return computed({
    events: Math.ceil(unrounded),
    unrounded,
    settings: { hazardRatio, standardDeviation, explainedShare, ...settings },
  });
}
