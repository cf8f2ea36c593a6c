import { requirePositive, requireProbability } from "./argument-checks.ts";
import { continuedFraction } from "./continued-fraction.ts";
import { logBinomialTerm } from "./stirling-error.ts";

/** Lower regularised incomplete beta I_x(a, b): the chance that a beta variate is at most x. */
export function betaLower(x: number, a: number, b: number): number {
  check(x, a, b);
  return Math.exp(logBetaLower(x, 1 - x, a, b));
}

/** Upper regularised incomplete beta 1 − I_x(a, b), never formed by that subtraction where it loses digits. */
export function betaUpper(x: number, a: number, b: number): number {
  check(x, a, b);
  return Math.exp(logBetaLower(1 - x, x, b, a));
}

/**
 * log I_x(a, b) with y = 1 − x given by the caller, who may know it more exactly than a subtraction would.
 *
 * Minus infinity at x = 0, so for use inside this folder. The upper tail is `logBetaLower(y, x, b, a)`.
 */
export function logBetaLower(x: number, y: number, a: number, b: number): number {
  if (x <= 0) return Number.NEGATIVE_INFINITY;
  if (y <= 0) return 0;
  // a − (a + b) x, from whichever of x and y leaves less to cancel: its sign says which side of the mean x lies on.
  const slack = a <= b ? a - (a + b) * x : (a + b) * y - b;
  return slack >= 0 ? logFraction(x, y, a, b, slack) : Math.log1p(-Math.exp(logFraction(y, x, b, a, -slack)));
}

// I = term · a b / (a + b) / fraction, in the contracted form (Didonato and Morris 1992) that never forms 1 − x.
function logFraction(x: number, y: number, a: number, b: number, slack: number): number {
  const fraction = continuedFraction(
    (a * (slack + 1)) / (a + 1),
    (k) => {
      const odd = a + 2 * k - 1;
      return ((a + k - 1) / odd) * ((a + b + k - 1) / odd) * k * (b - k) * x * x;
    },
    (k) => k + (k * (b - k) * x) / (a + 2 * k - 1) + ((a + k) * (slack + 1 + k * (1 + y))) / (a + 2 * k + 1),
  );
  return Math.min(0, logBinomialTerm(a, b, x, y) + Math.log(((a / (a + b)) * b) / fraction));
}

function check(x: number, a: number, b: number): void {
  requireProbability("betaLower", "x", x);
  requirePositive("betaLower", "a", a);
  requirePositive("betaLower", "b", b);
}
