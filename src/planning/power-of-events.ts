import { type Answer, computed, notComputed } from "../base/answer.ts";
import { requireFinite, requirePositive, requireProbability } from "../numeric/argument-checks.ts";
import { normalLower, normalUpperQuantile } from "../numeric/normal.ts";
import { tailOf } from "./detection.ts";
import type { PowerSettings } from "./events-required.ts";

export interface PowerInput extends Omit<PowerSettings, "power"> {
  /** Events of both groups together; expected numbers need not be whole. */
  readonly events: number;
  readonly hazardRatio: number;
}

export type PowerOfEvents = Answer<{
  readonly power: number;
  readonly settings: Required<PowerInput>;
}>;

/**
 * The chance that a comparison with a given number of events sees a given hazard ratio.
 *
 * Schoenfeld's formula for the direction of the ratio; finds in the other direction, which would be wrong, are not
 * counted. Without any events, with an empty group or with a ratio of 1 there is no answer. Source: Schoenfeld 1981.
 *
 * @example
 * powerOfEvents({ events: 100, hazardRatio: 2, exposedShare: 0.5 }); // power 0.934
 */
export function powerOfEvents(input: PowerInput): PowerOfEvents {
  const { events, hazardRatio, exposedShare, level = 0.05, sided = "two-sided", varianceFactor = 1 } = input;
  requireFinite("powerOfEvents", "events", events);
  requirePositive("powerOfEvents", "hazardRatio", hazardRatio);
  requireProbability("powerOfEvents", "exposedShare", exposedShare);
  requirePositive("powerOfEvents", "varianceFactor", varianceFactor);
  const toLimit = normalUpperQuantile(tailOf("powerOfEvents", { level, sided }));
  if (exposedShare === 0 || exposedShare === 1) return notComputed("one-group", "one of the groups is empty");
  if (hazardRatio === 1) return notComputed("no-difference", "a ratio of 1 is no difference to be seen");
  if (events <= 0) return notComputed("no-events", "no events, so no ratio could have been seen");
  const information = (events * exposedShare * (1 - exposedShare)) / varianceFactor;
  const power = normalLower(Math.abs(Math.log(hazardRatio)) * Math.sqrt(information) - toLimit);
  return computed({
    power,
    settings: { events, hazardRatio, exposedShare, level, sided, varianceFactor },
  });
}
