import { ArgumentError } from "../base/errors.ts";
import { requireInnerProbability } from "../numeric/argument-checks.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";

/** Whether a difference in either direction counts, or one only. */
export const SIDES = ["two-sided", "one-sided"] as const;
export type Sides = (typeof SIDES)[number];

/** How surely a difference is to be seen, and how seldom one that is not there. */
export interface DetectionSettings {
  /** Chance of seeing the difference if it is there. Default 0.8. */
  readonly power?: number;
  /** Chance of a false alarm if it is not. Default 0.05. */
  readonly level?: number;
  /** Default "two-sided". */
  readonly sided?: Sides;
}

/** The settings with their defaults, and the two distances on the standard normal scale that they ask for. */
export interface Detection {
  readonly settings: Required<DetectionSettings>;
  /** From no difference to the limit of the test. */
  readonly toLimit: number;
  /** From the limit of the test to the true difference. */
  readonly toTruth: number;
}

/** Checks the settings; a false alarm must be rarer than a find. */
export function detection(where: string, given: DetectionSettings): Detection {
  const { power = 0.8, level = 0.05, sided = "two-sided" } = given;
  requireInnerProbability(where, "power", power);
  const tail = tailOf(where, { level, sided });
  if (power <= tail) {
    throw new ArgumentError(`${where}: power must be above the chance of a false alarm; received ${power}`);
  }
  return {
    settings: { power, level, sided },
    toLimit: normalUpperQuantile(tail),
    toTruth: normalUpperQuantile(1 - power),
  };
}

/** The chance of a false alarm in one direction. */
export function tailOf(where: string, { level, sided }: { level: number; sided: Sides }): number {
  requireInnerProbability(where, "level", level);
  if (level >= 0.5) {
    throw new ArgumentError(
      `${where}: level is the chance of a false alarm and must lie below 0.5; received ${level} (write 0.05 for 95 %)`,
    );
  }
  if (!SIDES.includes(sided)) throw new ArgumentError(`${where}: sided must be one of ${SIDES.join(", ")}`);
  return sided === "two-sided" ? level / 2 : level;
}
