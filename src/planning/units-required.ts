import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { requirePositive } from "../numeric/argument-checks.ts";
import { detection } from "./detection.ts";
import { type Course, checkedCourse, eventShare } from "./event-share.ts";
import { EVENT_METHODS, eventsRequired, type PowerSettings, powerDistance } from "./events-required.ts";

/** By events divided by the share that has one, or by the difference of two constant hazards (Lachin and Foulkes 1986). */
export const UNIT_METHODS = [...EVENT_METHODS, "hazard-difference"] as const;
export type UnitMethod = (typeof UNIT_METHODS)[number];

export interface UnitsRequiredInput extends PowerSettings, Course {
  readonly hazardRatio: number;
  /** Hazard of the event in the group that is not exposed, per year. */
  readonly hazardPerYear: number;
  /** Default "schoenfeld". */
  readonly method?: UnitMethod;
}

export type UnitsRequired = Answer<{
  /** Whole units of both groups together, rounded up. */
  readonly units: number;
  readonly unrounded: number;
  /** Events expected among them. */
  readonly events: number;
  /** Share of the exposed, and of the others, that will have had the event. */
  readonly eventShares: readonly [exposed: number, other: number];
  readonly settings: Required<UnitsRequiredInput>;
}>;

/**
 * How many units two groups need together, when they come in over some years and are watched for some more.
 *
 * Constant hazards of event and loss, even accrual, loss alike in both groups. Sources: Schoenfeld 1981; Freedman 1982;
 * Lachin and Foulkes 1986.
 *
 * @example
 * unitsRequired({
 *   hazardRatio: 0.7, exposedShare: 0.5, hazardPerYear: 0.003046,
 *   accrualYears: 5, followUpYears: 10, lossPerYear: 0.02,
 * }); // 8,772 units
 */
export function unitsRequired(input: UnitsRequiredInput): UnitsRequired {
  const { hazardRatio, hazardPerYear, exposedShare, method = "schoenfeld" } = input;
  const course = checkedCourse("unitsRequired", input);
  requirePositive("unitsRequired", "hazardPerYear", hazardPerYear);
  requirePositive("unitsRequired", "hazardRatio", hazardRatio);
  if (!UNIT_METHODS.includes(method)) {
    throw new ArgumentError(`unitsRequired: method must be one of ${UNIT_METHODS.join(", ")}`);
  }
  const { power, level, sided, varianceFactor } = powerDistance("unitsRequired", input);
  if (exposedShare === 0 || exposedShare === 1) return notComputed("one-group", "one of the groups is empty");
  if (hazardRatio === 1) return notComputed("no-difference", "a ratio of 1 is no difference to be seen");
  const shares = [
    eventShare(hazardRatio * hazardPerYear, course),
    eventShare(hazardPerYear, course),
  ] as const;
  const meanShare = exposedShare * shares[0] + (1 - exposedShare) * shares[1];
  const unrounded =
    method === "hazard-difference" ? fromHazards(input, course) : fromEvents({ ...input, method }, meanShare);
  if (unrounded === undefined || !Number.isFinite(unrounded)) {
    return notComputed("out-of-range", "more units than can be counted");
  }
  return computed({
    units: Math.ceil(unrounded),
    unrounded,
    events: unrounded * meanShare,
    eventShares: shares,
    settings: {
      hazardRatio,
      hazardPerYear,
      exposedShare,
      power,
      level,
      sided,
      varianceFactor,
      method,
      ...course,
    },
  });
}

function fromEvents(input: Parameters<typeof eventsRequired>[0], meanShare: number): number | undefined {
  const events = eventsRequired(input);
  return events.computed ? events.unrounded / meanShare : undefined;
}

/** Variance of an estimated constant hazard is hazard²/(units · share with an event). */
function fromHazards(input: UnitsRequiredInput, course: Course): number {
  const { hazardRatio, hazardPerYear: other, exposedShare: p, varianceFactor = 1 } = input;
  const exposed = hazardRatio * other;
  const { toLimit, toTruth } = detection("unitsRequired", input);
  const variance = (hazard: number) => (hazard * hazard) / eventShare(hazard, course);
  const ifAlike = variance(p * exposed + (1 - p) * other) * (1 / p + 1 / (1 - p));
  const ifDifferent = variance(exposed) / p + variance(other) / (1 - p);
  const distance = toLimit * Math.sqrt(ifAlike) + toTruth * Math.sqrt(ifDifferent);
  const difference = exposed - other;
  return (varianceFactor * distance * distance) / (difference * difference);
}
