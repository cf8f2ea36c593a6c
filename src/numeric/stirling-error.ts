const HALF_LOG_TWO_PI = 0.9189385332046728;
const SERIES_FROM = 16;

/**
 * What Stirling's formula leaves out of log Γ(n + 1), for n above 0.
 *
 * log Γ(n + 1) = (n + 1/2) log n − n + log √(2π) + stirlingError(n). Binomial and Poisson terms built on it keep
 * their accuracy where differences of log Γ lose all digits (Loader 2000).
 */
export function stirlingError(n: number): number {
  let error = 0;
  // One step down the recurrence costs a rounding of 1e-16; the series needs n from 16 up for full accuracy.
  for (; n < SERIES_FROM; n += 1) error += (n + 0.5) * Math.log1p(1 / n) - 1;
  const square = n * n;
  const series = 1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - 1 / 1188 / square) / square) / square) / square;
  return error + series / n;
}

/**
 * n log(n / mean) + mean − n: half the deviance of a count from its mean, without cancellation.
 *
 * For n above 0 and mean above 0.
 */
export function devianceTerm(n: number, mean: number): number {
  const difference = n - mean;
  if (Math.abs(difference) >= 0.1 * (n + mean)) return n * Math.log(n / mean) - difference;
  // With v = (n − mean)/(n + mean): log(n / mean) = 2 (v + v³/3 + v⁵/5 + …).
  const v = difference / (n + mean);
  let sum = difference * v;
  let power = 2 * n * v;
  for (let odd = 3; ; odd += 2) {
    power *= v * v;
    const next = sum + power / odd;
    if (next === sum) return sum;
    sum = next;
  }
}

/** log of mean^n e^(−mean) / Γ(n + 1), n need not be whole. */
export function logPoissonTerm(n: number, mean: number): number {
  return -HALF_LOG_TWO_PI - 0.5 * Math.log(n) - stirlingError(n) - devianceTerm(n, mean);
}

/** log of Γ(a + b + 1) / (Γ(a + 1) Γ(b + 1)) x^a y^b with y = 1 − x given, so that neither tail is rounded away. */
export function logBinomialTerm(a: number, b: number, x: number, y: number): number {
  const n = a + b;
  return (
    -HALF_LOG_TWO_PI +
    0.5 * (Math.log(n / a) - Math.log(b)) +
    (stirlingError(n) - stirlingError(a) - stirlingError(b)) -
    devianceTerm(a, n * x) -
    devianceTerm(b, n * y)
  );
}
