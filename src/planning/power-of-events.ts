import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireFinite, requirePositive, requireProbability } from "../numeric/argument-checks.ts";
import { normalLower, normalUpperQuantile } from "../numeric/normal.ts";
import { tailOf } from "./detection.ts";
import { EVENT_METHODS, type EventMethod, eventsPerDistance, type PowerSettings } from "./events-required.ts";

export interface PowerInput extends Omit<PowerSettings, "power"> {
  /** Events of both groups together; expected numbers need not be whole. */
  readonly events: number;
  readonly hazardRatio: number;
  /** Default "schoenfeld". */
  readonly method?: EventMethod;
}

export type PowerOfEvents = Answer<{
  readonly power: number;
  readonly settings: Required<PowerInput>;
}>;

/**
 * The chance that a comparison with a given number of events sees a given hazard ratio.
 *
 * For the direction of the ratio; finds in the other direction, which would be wrong, are not counted. Schoenfeld's
 * formula is made for ratios near 1: where the larger group has the higher hazard it promises too much, and Freedman's is
 * nearer (tests/simulation/power.json). Without any events, with an empty group or with a ratio of 1 there is no answer.
 * Sources: Schoenfeld 1981; Freedman 1982.
 *
 * @example
 * powerOfEvents({ events: 100, hazardRatio: 2, exposedShare: 0.5 }); // power 0.934
 */
export function powerOfEvents(input: PowerInput): PowerOfEvents {
  const {
    method = "schoenfeld",
    events,
    hazardRatio,
    exposedShare,
    level = 0.05,
    sided = "two-sided",
    varianceFactor = 1,
  } = input;
  requireFinite("powerOfEvents", "events", events);
  requirePositive("powerOfEvents", "hazardRatio", hazardRatio);
  requireProbability("powerOfEvents", "exposedShare", exposedShare);
  requirePositive("powerOfEvents", "varianceFactor", varianceFactor);
  if (!EVENT_METHODS.includes(method)) {
    throw new ArgumentError(`powerOfEvents: method must be one of ${EVENT_METHODS.join(", ")}`);
  }
  const toLimit = normalUpperQuantile(tailOf("powerOfEvents", { level, sided }));
  if (exposedShare === 0 || exposedShare === 1) return notComputed("one-group", "one of the groups is empty");
  if (hazardRatio === 1) return notComputed("no-difference", "a ratio of 1 is no difference to be seen");
  if (events <= 0) return notComputed("no-events", "no events, so no ratio could have been seen");
  const distance = Math.sqrt(
    events / (varianceFactor * eventsPerDistance(method, hazardRatio, exposedShare)),
  );
  const power = normalLower(distance - toLimit);
  return computed({
    power,
    settings: { events, hazardRatio, exposedShare, level, sided, varianceFactor, method },
  });
}
