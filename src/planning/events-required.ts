import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requireInnerProbability, requirePositive, requireProbability } from "../numeric/argument-checks.ts";
import { type DetectionSettings, detection } from "./detection.ts";

/** Schoenfeld 1981 measures the distance on the log scale of the ratio, Freedman 1982 on the scale of the ratio. */
export const EVENT_METHODS = ["schoenfeld", "freedman"] as const;
export type EventMethod = (typeof EVENT_METHODS)[number];

/** What a comparison of two groups is to be able to see. */
export interface PowerSettings extends DetectionSettings {
  /** Share of the units that are in the exposed group. */
  readonly exposedShare: number;
  /** Factor by which clustering widens the variance, as `designEffect` gives it. Default 1, independent units. */
  readonly varianceFactor?: number;
}

export interface EventsRequiredInput extends PowerSettings {
  /** Hazard in the exposed group over hazard in the other, the same at all times. */
  readonly hazardRatio: number;
  /** Default "schoenfeld". */
  readonly method?: EventMethod;
}

export type EventsRequired = Answer<{
  /** Whole events, rounded up. */
  readonly events: number;
  readonly unrounded: number;
  readonly settings: Required<EventsRequiredInput>;
}>;

/**
 * How many events a comparison of two groups needs to see a given hazard ratio.
 *
 * Events of both groups together; units without the event add nothing. Proportional hazards and no adjustment are
 * assumed, and independent units unless a variance factor is given, which multiplies the events. No answer for a ratio
 * of 1, which no number of events can tell from itself, and none where one of the groups is empty. Sources: Schoenfeld
 * 1981; Freedman 1982.
 *
 * @example
 * eventsRequired({ hazardRatio: 2, exposedShare: 0.5 }); // 66 events
 */
export function eventsRequired(input: EventsRequiredInput): EventsRequired {
  const { hazardRatio, exposedShare, method = "schoenfeld" } = input;
  const { power, level, sided, varianceFactor, distance } = powerDistance("eventsRequired", input);
  requirePositive("eventsRequired", "hazardRatio", hazardRatio);
  if (!EVENT_METHODS.includes(method)) {
    throw new ArgumentError(`eventsRequired: method must be one of ${EVENT_METHODS.join(", ")}`);
  }
  if (exposedShare === 0 || exposedShare === 1) return notComputed("one-group", "one of the groups is empty");
  if (hazardRatio === 1) return notComputed("no-difference", "a ratio of 1 is no difference to be seen");
  const unrounded =
    varianceFactor * distance * distance * eventsPerDistance(method, hazardRatio, exposedShare);
  if (!Number.isFinite(unrounded)) {
    return notComputed("out-of-range", "more events than can be counted");
  }
  const settings = { hazardRatio, exposedShare, power, level, sided, varianceFactor, method };
  return computed({ events: Math.ceil(unrounded), unrounded, settings });
}

/**
 * How many units are needed for a number of events, when a given share of them will have one.
 *
 * @example
 * unitsForEvents(65.35, 0.01); // 6535
 */
export function unitsForEvents(events: number, eventShare: number): number {
  requirePositive("unitsForEvents", "events", events);
  requireInnerProbability("unitsForEvents", "eventShare", eventShare);
  return Math.ceil(events / eventShare);
}

/** Distance in standard errors that a true difference must have: the limit of the test plus what the power asks. */
export function powerDistance(where: string, input: PowerSettings) {
  const { exposedShare, varianceFactor = 1 } = input;
  requireProbability(where, "exposedShare", exposedShare);
  requirePositive(where, "varianceFactor", varianceFactor);
  const { settings, toLimit, toTruth } = detection(where, input);
  return { ...settings, varianceFactor, toLimit, distance: toLimit + toTruth };
}

/** Events for one standard error of distance between the groups. */
export function eventsPerDistance(method: EventMethod, ratio: number, exposed: number): number {
  if (method === "schoenfeld") {
    const log = Math.log(ratio);
    return 1 / (exposed * (1 - exposed) * log * log);
  }
  const odds = exposed / (1 - exposed);
  const sum = 1 + odds * ratio;
  return (sum * sum) / (odds * (1 - ratio) * (1 - ratio));
}
