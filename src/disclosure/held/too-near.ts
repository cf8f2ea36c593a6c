import { type Chains, chainsByTime } from "./chains.ts";
import type { HeldReport } from "./held-report.ts";

/** Why a count may not be told to who holds the other report. */
export interface TooNear {
  readonly because: "a few apart" | "narrowed" | "unmoved" | "a few apart in time";
  /** What the other report says of it: both limits the same where it is told; undefined where it is hidden there. */
  readonly held?: { readonly low: number; readonly high: number };
}

type Limits = { readonly low: number; readonly high: number };

/**
 * The counts that, told beside another report, would give a small number away.
 *
 * A count may not be told where
 * - it differs from that of the other report by 1 to below the threshold, or where the range that report gives for it
 *   would be narrowed to part of such a difference;
 * - the other report hides it, and it would fill every gap that report leaves without a contradiction: then nothing
 *   moved, and it is the hidden number itself;
 * - the other report tells the same thing up to another year, the two numbers differ by a small one, and nothing says
 *   that the whole has moved since.
 *
 * @param counts every count of the report to be told, by key.
 */
export function tooNear(
  counts: ReadonlyMap<string, number>,
  { told, threshold: theirs }: Pick<HeldReport, "told" | "threshold">,
  threshold: number,
): Map<string, TooNear> {
  const found = new Map<string, TooNear>();
  const stillHidden = unmoved(counts, told);
  const exact = new Map<string, number>();
  for (const { key, low, high } of told.counts) {
    if (low !== undefined && low === high) exact.set(key, low);
    const units = counts.get(key);
    if (units === undefined) continue;
    if (low === undefined || high === undefined) {
      // Hidden there for its own size, most likely: 1 to below their threshold.
      const isNarrowed = narrows(units, { low: 1, high: theirs - 1 }, threshold);
      if (stillHidden.has(key)) found.set(key, { because: "unmoved" });
      else if (isNarrowed) found.set(key, { because: "narrowed" });
    } else if (narrows(units, { low, high }, threshold)) {
      found.set(key, { because: low === high ? "a few apart" : "narrowed", held: { low, high } });
    }
  }
  for (const key of nearInTime(counts, exact, threshold)) {
    if (!found.has(key)) found.set(key, { because: "a few apart in time" });
  }
  return found;
}

/** Does the number say more about a small difference, in either direction, than that it is small? */
function narrows(units: number, { low, high }: Limits, threshold: number): boolean {
  const cuts = (least: number, most: number) => {
    const isPossible = most >= 1 && least <= threshold - 1;
    return isPossible && !(least <= 1 && most >= threshold - 1);
  };
  return cuts(units - high, units - low) || cuts(low - units, high - units);
}

/** Hidden counts that could be the ones to be told now, by all sums of the report that hides them. */
function unmoved(
  counts: ReadonlyMap<string, number>,
  { counts: told, sums }: HeldReport["told"],
): Set<string> {
  const unitsAt = told.map(({ key, low, high }) =>
    low !== undefined && low === high ? low : counts.get(key),
  );
  const isHidden = (place: number) => told[place]?.low === undefined;
  const holds = new Map<number, boolean>();
  for (const sum of sums) {
    const [total = 0, ...parts] = sum.split(/[=+]/).map(Number);
    const gaps = [total, ...parts].filter(isHidden);
    if (gaps.length === 0) continue;
    const values = [total, ...parts].map((place) => unitsAt[place]);
    if (values.includes(undefined)) continue;
    const [whole = 0, ...others] = values as number[];
    const isSum = whole === others.reduce((left, part) => left + part, 0);
    for (const gap of gaps) holds.set(gap, (holds.get(gap) ?? true) && isSum);
  }
  return new Set([...holds].flatMap(([place, all]) => (all ? [told[place]?.key ?? ""] : [])));
}

/** Counts of one thing up to a year that lie next to a told one up to another year. */
function nearInTime(
  counts: ReadonlyMap<string, number>,
  exact: ReadonlyMap<string, number>,
  threshold: number,
): string[] {
  const theirs = chainsByTime(exact);
  return [...chainsByTime(counts)].flatMap(([series, own]) => {
    const other = theirs.get(series);
    return other === undefined
      ? []
      : own.flatMap((one) => (isNearAny(one, own, other, threshold) ? [one.key] : []));
  });
}

type Chain = Chains extends ReadonlyMap<string, infer Each> ? Each : never;

/** A point of a line may stand where no number that is told by then, or by another time of the same people, is a few apart. */
export function mayStand(
  point: { readonly year: number; readonly units: number },
  own: Chain,
  other: Chain,
  threshold: number,
): boolean {
  const one = { ...point, key: "" };
  const apart = other.flatMap(({ year, units }) =>
    year === point.year ? [Math.abs(units - point.units)] : [],
  );
  return apart.every((units) => units === 0 || units >= threshold) && !isNearAny(one, own, other, threshold);
}

function isNearAny(one: Chain[number], own: Chain, other: Chain, threshold: number): boolean {
  // Told there already: to tell it again gives nothing away.
  if (other.some(({ year, units }) => year === one.year && units === one.units)) return false;
  return other.some(({ year, units }) => {
    const apart = Math.abs(one.units - units);
    return (
      year !== one.year &&
      apart > 0 &&
      apart < threshold &&
      !hasMoved(Math.min(year, one.year), own, other, threshold)
    );
  });
}

/** At the first year that both tell from here on, the two are far apart: what lies between them is not one small thing. */
function hasMoved(from: number, own: Chain, other: Chain, threshold: number): boolean {
  for (const { year, units } of own) {
    const theirs = year < from ? undefined : other.find((each) => each.year === year);
    if (theirs !== undefined) return Math.abs(units - theirs.units) >= threshold;
  }
  return false;
}
