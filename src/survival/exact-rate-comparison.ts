import { type Answer, computed, notComputed } from "../base/answer.ts";
import { requireCount, requireLevel, requirePositive } from "../numeric/argument-checks.ts";
import { binomialLimits, binomialLower, binomialUpper } from "../numeric/binomial.ts";
import { normalUpperQuantile } from "../numeric/normal.ts";

/** How the chance of the very split that was seen is counted: in full, or by half. */
export const RATE_RATIO_METHODS = ["exact", "mid-p"] as const;
export type RateRatioMethod = (typeof RATE_RATIO_METHODS)[number];

/** Events and time under observation of one group. */
export interface ObservedRate {
  readonly events: number;
  readonly unitYears: number;
}

export interface RateComparison {
  readonly kind: "rateComparison";
  readonly settings: { readonly level: number; readonly method: RateRatioMethod };
  /** Events per 100 unit-years, first and second group. */
  readonly per100: readonly [number, number];
  /** First rate over second. */
  readonly ratio: Answer<{ readonly value: number }>;
  readonly lower: number;
  readonly upper: Answer<{ readonly value: number }>;
  /** Two-sided: twice the smaller tail, at most 1. */
  readonly p: number;
  /** First rate minus second, per 100 unit-years, with normal limits. */
  readonly difference: Answer<{ readonly per100: number; readonly lower: number; readonly upper: number }>;
}

/**
 * Whether two groups' event rates differ, without any large-sample approximation for the ratio.
 *
 * Given the number of events in both groups, the number in the first is binomial with chance T₁ / (T₁ + T₂) if the rates
 * are equal. Limits are the Clopper–Pearson limits of that chance turned into a ratio, or those that count half of the
 * split seen ("mid-p": narrower, and the level holds only on average). The difference has normal limits and is left out
 * where no event was seen in either group.
 *
 * @example
 * exactRateComparison({ events: 41, unitYears: 28010 }, { events: 15, unitYears: 19017 }); // ratio 1.86, 1.01 to 3.61
 */
export function exactRateComparison(
  first: ObservedRate,
  second: ObservedRate,
  options: { readonly level?: number; readonly method?: RateRatioMethod } = {},
): RateComparison {
  const { level = 0.95, method = "exact" } = options;
  requireLevel("exactRateComparison", level);
  for (const { events, unitYears } of [first, second]) {
    requireCount("exactRateComparison", "events", events);
    requirePositive("exactRateComparison", "unitYears", unitYears);
  }
  const limits = method === "exact" ? exactShare : midShare;
  const share =
    first.events + second.events === 0 ? { lower: 0, upper: 1 } : limits(first.events, second.events, level);
  const odds = (chance: number) => ((chance / (1 - chance)) * second.unitYears) / first.unitYears;
  const none = notComputed(
    "no-events-to-compare-with",
    "no event was seen in the second group, so the ratio has no upper bound",
  );
  return {
    kind: "rateComparison",
    settings: { level, method },
    per100: [rate(first), rate(second)],
    ratio: second.events === 0 ? none : computed({ value: rate(first) / rate(second) }),
    lower: odds(share.lower),
    upper: share.upper === 1 ? none : computed({ value: odds(share.upper) }),
    p: twoSided(first, second, method),
    difference: rateDifference(first, second, level),
  };
}

function rate({ events, unitYears }: ObservedRate): number {
  return (100 * events) / unitYears;
}

function exactShare(first: number, second: number, level: number): { lower: number; upper: number } {
  return binomialLimits(first, first + second, { level });
}

function midShare(first: number, second: number, level: number): { lower: number; upper: number } {
  const tail = (1 - level) / 2;
  return {
    lower: first === 0 ? 0 : chanceAt((chance) => midTails(first, first + second, chance).upper - tail),
    upper: second === 0 ? 1 : chanceAt((chance) => tail - midTails(first, first + second, chance).lower),
  };
}

/** Chances of at least, and at most, as many as were seen, with half of exactly as many. */
function midTails(seen: number, trials: number, chance: number): { lower: number; upper: number } {
  const beyond = seen === trials ? 0 : binomialUpper(seen + 1, trials, chance);
  const below = seen === 0 ? 0 : binomialLower(seen - 1, trials, chance);
  return {
    upper: (binomialUpper(seen, trials, chance) + beyond) / 2,
    lower: (binomialLower(seen, trials, chance) + below) / 2,
  };
}

/** Where a rising function of a chance crosses 0: halved until no double lies between. */
function chanceAt(rising: (chance: number) => number): number {
  let [low, high] = [0, 1];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
}

function twoSided(first: ObservedRate, second: ObservedRate, method: RateRatioMethod): number {
  const trials = first.events + second.events;
  if (trials === 0) return 1;
  const chance = first.unitYears / (first.unitYears + second.unitYears);
  const { lower, upper } =
    method === "mid-p"
      ? midTails(first.events, trials, chance)
      : {
          lower: binomialLower(first.events, trials, chance),
          upper: binomialUpper(first.events, trials, chance),
        };
  return Math.min(1, 2 * Math.min(lower, upper));
}

function rateDifference(
  first: ObservedRate,
  second: ObservedRate,
  level: number,
): RateComparison["difference"] {
  if (first.events + second.events === 0) {
    return notComputed("no-events", "no event was seen in either group");
  }
  const perUnitYear = (group: ObservedRate) => group.events / group.unitYears / group.unitYears;
  const half =
    100 * normalUpperQuantile((1 - level) / 2) * Math.sqrt(perUnitYear(first) + perUnitYear(second));
  const per100 = rate(first) - rate(second);
  return computed({ per100, lower: per100 - half, upper: per100 + half });
}
