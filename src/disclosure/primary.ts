import type { Entry, Ledger } from "./ledger.ts";

/**
 * Hides every count from 1 to below the threshold, shown or not.
 *
 * The smaller of units and persons decides. Zeros stay, except a zero that says "everybody": n of n is treated
 * like n − 1 of n.
 */
export function hideSmallCounts(ledger: Ledger): void {
  for (const entry of ledger.entries) {
    if (isSmall(entry, ledger.threshold)) hideSmall(entry);
  }
}

export function hideSmall(entry: Entry): void {
  entry.guarded = true;
  entry.hidden ??= "small";
}

export function isSmall(entry: Entry, threshold: number): boolean {
  if (threshold === 0) return false;
  return entry.units === 0 ? entry.emptyComplement : entry.size < threshold;
}
