/**
 * What an interval says about chance, in fixed words.
 *
 * Four cases by whether the interval holds zero and whether it holds a difference that matters, in either direction.
 */
export function certainty(
  low: number | undefined,
  high: number | undefined,
  smallestThatMatters: number,
): string {
  if (low === undefined || high === undefined) return "This export cannot tell.";
  const holdsZero = low <= 0 && high >= 0;
  const holdsOneThatMatters = low <= -smallestThatMatters || high >= smallestThatMatters;
  if (holdsZero && holdsOneThatMatters) {
    return "This export cannot tell: the numbers agree with no difference, and with a difference that matters.";
  }
  if (holdsZero) return "The numbers agree with no difference, and not with a difference that matters.";
  const onlyOnesThatMatter = low >= smallestThatMatters || high <= -smallestThatMatters;
  return onlyOnesThatMatter
    ? "The numbers agree only with a difference that matters."
    : "The numbers agree with a difference, which may be too small to matter.";
}
