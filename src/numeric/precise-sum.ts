/**
 * Sum of numbers with the rounding errors carried along: as exact as if added in twice the precision.
 *
 * Neumaier's form of compensated summation, which also holds where a term is larger than the sum so far.
 */
export function preciseSum(values: ArrayLike<number>): number {
  let sum = 0;
  let lost = 0;
  for (let at = 0; at < values.length; at += 1) {
    const value = values[at] ?? 0;
    const next = sum + value;
    lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + lost;
}
