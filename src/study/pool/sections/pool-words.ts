import type { PoolFacts } from "../pool-facts.ts";

/** What every interval and test from counts takes for granted; said wherever one is printed. */
export function independentWords({ words }: PoolFacts): string {
  return `not clustered: clusters cannot be seen in counts, so every ${words.unit.one} is taken as independent`;
}
