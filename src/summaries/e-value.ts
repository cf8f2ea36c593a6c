import { ArgumentError } from "../base/errors.ts";
import { requireFinite, requirePositive } from "../numeric/argument-checks.ts";

/** What a ratio compares. Odds and hazards stand for risks where the outcome is rare. */
export type RatioKind = "risk" | "hazard" | "odds";

/** A ratio with its limits, all above 0. */
export interface RatioWithLimits {
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
}

export interface EValue {
  /** Needed to take the estimate to 1. */
  readonly estimate: number;
  /** Needed to let the interval reach 1; exactly 1 where it holds 1 already. */
  readonly limit: number;
  /** The ratio of risks that both were worked out from. */
  readonly asRiskRatio: RatioWithLimits;
}

/**
 * How strong something unrecorded would have to be to explain a ratio away.
 *
 * The smallest ratio of risks by which it would have to go with the groups and with the outcome, both at once and beyond
 * all that is adjusted for. 1 means that nothing is needed. A ratio and its inverse have the same value. It says nothing
 * about whether such a thing exists.
 *
 * Hazard and odds ratios are taken as ratios of risks where the outcome is rare (default). Where over 15 % have it
 * (`outcome: "common"`): (1 − 0.5^√HR) / (1 − 0.5^√(1/HR)), and the square root of an odds ratio.
 *
 * Source: VanderWeele and Ding 2017 (Annals of Internal Medicine 167:268).
 *
 * @throws ArgumentError for a ratio or limit that is not above 0, and for limits that do not hold the ratio.
 *
 * @example
 * eValue({ ratio: 3.9, lower: 1.8, upper: 8.7 }); // estimate 7.263, limit 3
 */
export function eValue(
  given: RatioWithLimits,
  options: { readonly of?: RatioKind; readonly outcome?: "rare" | "common" } = {},
): EValue {
  const { of = "risk", outcome = "rare" } = options;
  const { ratio, lower, upper } = given;
  requirePositive("eValue", "ratio", ratio);
  requirePositive("eValue", "lower", lower);
  requirePositive("eValue", "upper", upper);
  if (lower > ratio || upper < ratio) {
    throw new ArgumentError(
      `eValue: the limits must hold the ratio; received ${lower} to ${upper} for ${ratio}`,
    );
  }
  if (!Object.hasOwn(FROM_COMMON, of)) {
    throw new ArgumentError(`eValue: of must be one of ${Object.keys(FROM_COMMON).join(", ")}`);
  }
  const toRisk = outcome === "rare" ? (value: number) => value : FROM_COMMON[of];
  const asRiskRatio = { ratio: toRisk(ratio), lower: toRisk(lower), upper: toRisk(upper) };
  const holdsOne = lower <= 1 && upper >= 1;
  requireFinite("eValue", "twice the ratio", 2 * Math.max(asRiskRatio.ratio, 1 / asRiskRatio.ratio));
  const nearer = ratio > 1 ? asRiskRatio.lower : asRiskRatio.upper;
  return {
    estimate: needed(asRiskRatio.ratio),
    limit: holdsOne ? 1 : needed(nearer),
    asRiskRatio,
  };
}

const FROM_COMMON: Readonly<Record<RatioKind, (value: number) => number>> = {
  risk: (value) => value,
  hazard: (value) => halfLeft(Math.sqrt(value)) / halfLeft(Math.sqrt(1 / value)),
  odds: Math.sqrt,
};

/** 1 − 0.5^power, without the subtraction that would eat its digits. */
function halfLeft(power: number): number {
  return -Math.expm1(-power * Math.LN2);
}

function needed(ratio: number): number {
  const above = ratio < 1 ? 1 / ratio : ratio;
  // The product is taken apart: squares of large ratios overflow.
  return above + Math.sqrt(above) * Math.sqrt(above - 1);
}
