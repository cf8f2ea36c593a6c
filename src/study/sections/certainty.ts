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
    return "This export cannot tell: no difference fits the numbers, and so does a difference that matters.";
  }
  if (holdsZero) return "No difference fits the numbers; a difference that matters does not.";
  const onlyOnesThatMatter = low >= smallestThatMatters || high <= -smallestThatMatters;
  return onlyOnesThatMatter
    ? "The numbers fit only a difference that matters."
    : "The numbers fit a difference, but it may be too small to matter.";
}
