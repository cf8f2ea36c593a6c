const TINY = 1e-300;
const CLOSE = 2e-16;

/** Value of start + n₁/(d₁ + n₂/(d₂ + …)) by Lentz's forward recurrence, to rounding. */
export function continuedFraction(
  start: number,
  numerator: (k: number) => number,
  denominator: (k: number) => number,
): number {
  let value = start === 0 ? TINY : start;
  let c = value;
  let d = 0;
  for (let k = 1; ; k += 1) {
    const n = numerator(k);
    // A fraction that ends: what follows a zero numerator does not count.
    if (n === 0) return value;
    d = denominator(k) + n * d;
    c = denominator(k) + n / c;
    if (d === 0) d = TINY;
    if (c === 0) c = TINY;
    d = 1 / d;
    const factor = c * d;
    value *= factor;
    // Written so that NaN ends the loop too.
    if (!(Math.abs(factor - 1) >= CLOSE)) return value;
  }
}
