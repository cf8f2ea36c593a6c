import { ArgumentError } from "../base/errors.ts";

/** Named ways of weighting the event ticks of a log-rank test. */
export const NAMED_WEIGHTINGS = ["equal", "atRisk", "rootAtRisk", "survival"] as const;

/**
 * How much each event tick counts: all alike (log-rank); by the number at risk (Gehan–Breslow) or its root
 * (Tarone–Ware); by survival ∏(1 − d/(n + 1)), the tick included (Peto–Peto); or by
 * S^early (1 − S)^late with the pooled Kaplan–Meier just before the tick (Fleming–Harrington): a larger `early` stresses
 * early differences, a larger `late` late ones.
 */
export type LogRankWeighting =
  | (typeof NAMED_WEIGHTINGS)[number]
  | { readonly early: number; readonly late: number };

/** Weight of the next event tick of one stratum, from its numbers at risk and of events; to be asked in order of time. */
export type TickWeight = (atRisk: number, events: number) => number;

/** A fresh weight for one stratum: weights never look across strata. */
export function tickWeight(weighting: LogRankWeighting): TickWeight {
  if (typeof weighting === "object") return powerWeight(weighting.early, weighting.late);
  let survival = 1;
  switch (weighting) {
    case "equal":
      return () => 1;
    case "atRisk":
      return (atRisk) => atRisk;
    case "rootAtRisk":
      return Math.sqrt;
    case "survival":
      return (atRisk, events) => {
        survival *= 1 - events / (atRisk + 1);
        return survival;
      };
  }
}

export function requireWeighting(where: string, weighting: LogRankWeighting): void {
  if (typeof weighting === "string" ? NAMED_WEIGHTINGS.includes(weighting) : isPowers(weighting)) return;
  throw new ArgumentError(
    `${where}: weighting must be one of ${NAMED_WEIGHTINGS.join(", ")}, or { early, late } with finite powers from 0 up`,
  );
}

function isPowers({ early, late }: { readonly early: number; readonly late: number }): boolean {
  return [early, late].every((power) => Number.isFinite(power) && power >= 0);
}

function powerWeight(early: number, late: number): TickWeight {
  let before = 1;
  return (atRisk, events) => {
    const weight = power(before, early) * power(1 - before, late);
    before *= (atRisk - events) / atRisk;
    return weight;
  };
}

// exp and log rather than a power: powers differ between versions of the engine in the last digit.
function power(base: number, exponent: number): number {
  if (exponent === 0) return 1;
  return base <= 0 ? 0 : exponent === 1 ? base : Math.exp(exponent * Math.log(base));
}
