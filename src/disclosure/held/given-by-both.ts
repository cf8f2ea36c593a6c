import { eliminate } from "../elimination.ts";
import type { HeldReport } from "./held-report.ts";
import { exactCounts, type ToldCount } from "./told-counts.ts";
import { tooNear } from "./too-near.ts";

/**
 * The counts that two reports give away together, each once: those that differ by a small number in the two, and those that
 * one hides and its own sums give back with what the other tells.
 *
 * Small is below the lower of the two thresholds: who holds both is one of the readers that may see more.
 */
export function givenByBoth(one: HeldReport, two: HeldReport): ToldCount[] {
  const threshold = Math.min(one.threshold, two.threshold);
  const keys = new Set([
    ...apart(one, two, threshold),
    ...apart(two, one, threshold),
    ...filled(one, two, threshold),
    ...filled(two, one, threshold),
  ]);
  const named = new Map([...one.told.counts, ...two.told.counts].map((count) => [count.key, count]));
  return [...keys].flatMap((key) => named.get(key) ?? []);
}

function apart(one: HeldReport, two: HeldReport, threshold: number): string[] {
  return [...tooNear(exactCounts(two.told), one, threshold)].flatMap(([key, { because }]) =>
    because === "a few apart" || because === "a few apart in time" ? [key] : [],
  );
}

/** Small counts of the first that follow once its gaps are filled with what the second tells and nothing contradicts. */
function filled(one: HeldReport, two: HeldReport, threshold: number): string[] {
  const theirs = exactCounts(two.told);
  const unmoved = [...tooNear(theirs, one, threshold)].flatMap(([key, { because }]) =>
    because === "unmoved" ? [key] : [],
  );
  if (unmoved.length === 0) return [];
  const known = exactCounts(one.told);
  for (const key of unmoved) known.set(key, theirs.get(key) ?? 0);
  const unknowns = one.told.counts.map(({ key }) => known.get(key));
  const equations = one.told.sums.map((sum) => {
    const [total = 0, ...parts] = sum.split(/[=+]/).map(Number);
    const factors = new Map<number, number>();
    let value = 0;
    for (const [place, factor] of [[total, -1], ...parts.map((part) => [part, 1])] as [number, number][]) {
      const units = unknowns[place];
      if (units === undefined) factors.set(place, factor);
      else value -= factor * units;
    }
    return { factors, value };
  });
  return eliminate(equations).flatMap(({ factors, value }) => {
    const [only, ...others] = factors;
    if (only === undefined || others.length > 0) return [];
    const units = Math.round(value / only[1]);
    const key = one.told.counts[only[0]]?.key;
    return key !== undefined && units > 0 && units < threshold ? [key] : [];
  });
}
