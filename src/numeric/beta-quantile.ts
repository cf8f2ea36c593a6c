import { requireInnerProbability, requirePositive } from "./argument-checks.ts";
import { logBetaLower } from "./incomplete-beta.ts";
import { quantileSearch } from "./quantile-search.ts";
import { logBinomialTerm } from "./stirling-error.ts";

/** The x with I_x(a, b) = p. */
export function betaLowerQuantile(p: number, a: number, b: number): number {
  return 1 / (1 + Math.exp(-betaLowerLogOdds(p, a, b)));
}

/** The x with 1 − I_x(a, b) = p. */
export function betaUpperQuantile(p: number, a: number, b: number): number {
  return 1 / (1 + Math.exp(betaLowerLogOdds(p, b, a)));
}

/** log(x / (1 − x)) at the lower quantile: keeps both x and 1 − x exact, which t and F quantiles need. */
export function betaLowerLogOdds(p: number, a: number, b: number): number {
  requireInnerProbability("betaLowerQuantile", "p", p);
  requirePositive("betaLowerQuantile", "a", a);
  requirePositive("betaLowerQuantile", "b", b);
  // The smaller tail carries the digits; 1 − p is exact from one half up, and the upper tail is the lower of 1 − x.
  return p <= 0.5 ? fromLower(p, a, b) : -fromLower(1 - p, b, a);
}

function fromLower(p: number, a: number, b: number): number {
  const tail = (logOdds: number) => {
    const x = 1 / (1 + Math.exp(-logOdds));
    const y = 1 / (1 + Math.exp(logOdds));
    const log = logBetaLower(x, y, a, b);
    // x y · density = a b / (a + b) · binomial term
    const density = Math.log((a / (a + b)) * b) + logBinomialTerm(a, b, x, y);
    return { log, slope: Math.exp(density - log) };
  };
  return quantileSearch(tail, Math.log(p), Math.log(a / b), "rising");
}
