import { type Answer, computed, notComputed } from "../base/answer.ts";
import { requireCount } from "../numeric/argument-checks.ts";
import { type PowerSettings, powerDistance } from "./events-required.ts";

export interface DetectableRatioInput extends PowerSettings {
  /** Events of both groups together. */
  readonly events: number;
}

export type DetectableHazardRatio = Answer<{
  /** Smallest ratio above 1 that has the stated chance of being seen. */
  readonly ratio: number;
  /** The largest below 1. */
  readonly reciprocal: number;
  readonly settings: Required<DetectableRatioInput>;
}>;

/**
 * The smallest hazard ratio that a given number of events could show.
 *
 * Schoenfeld's formula read backwards: exp(distance · √(f / (events · p(1 − p)))) with the variance factor f of
 * clustering, the same for a ratio and its reciprocal.
 * It uses the events of both groups together and the sizes of the groups, never what was seen in each. No answer
 * without events, with an empty group, or where the ratio is beyond any number. Source: Schoenfeld 1981.
 *
 * @example
 * detectableHazardRatio({ events: 100, exposedShare: 0.5 }); // ratio 1.751, reciprocal 0.571
 */
export function detectableHazardRatio(input: DetectableRatioInput): DetectableHazardRatio {
  const { events, exposedShare } = input;
  requireCount("detectableHazardRatio", "events", events);
  const { power, level, sided, varianceFactor, distance } = powerDistance("detectableHazardRatio", input);
  if (exposedShare === 0 || exposedShare === 1) return notComputed("one-group", "one of the groups is empty");
  if (events === 0) return notComputed("no-events", "no events, so no ratio could have been seen");
  const ratio = Math.exp(distance * Math.sqrt(varianceFactor / (events * exposedShare * (1 - exposedShare))));
  if (!Number.isFinite(ratio))
    return notComputed("out-of-range", "no ratio, however large, could have been seen");
  return computed({
    ratio,
    reciprocal: 1 / ratio,
    settings: { events, exposedShare, power, level, sided, varianceFactor },
  });
}
