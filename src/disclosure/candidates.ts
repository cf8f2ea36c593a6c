import { type Entry, isShown, type Ledger } from "./ledger.ts";

/**
 * The count to give up so that a balance has one more gap, or undefined where nothing is left to give up.
 *
 * In this order: what yields first; a part rather than the total; a part that is not zero; the one that leaves
 * fewest balances with a lone gap of their own; the smallest; the first by key.
 */
export function nextToHide(
  ledger: Ledger,
  known: readonly boolean[],
  balanceAt: number,
  touched: ReadonlySet<number> = new Set(),
): Entry | undefined {
  // Where the balance itself shows nothing, whatever its members follow from must give way.
  const seen = new Set([balanceAt]);
  let level = [balanceAt];
  while (level.length > 0) {
    if (level.some((at) => touched.has(at))) return undefined;
    const found = level.flatMap((at) => shownMembers(ledger, at));
    if (found.length > 0) return best(ledger, known, found);
    level = level.flatMap((at) => neighbours(ledger, at)).filter((at) => !seen.has(at) && seen.add(at));
  }
  return undefined;
}

interface Candidate {
  readonly entry: Entry;
  readonly isTotal: boolean;
}

function shownMembers(ledger: Ledger, balanceAt: number): Candidate[] {
  const { total, parts } = ledger.balances[balanceAt] ?? { total: -1, parts: [] };
  return [...parts, total].flatMap((place) => {
    const entry = ledger.entries[place];
    if (entry === undefined || !isShown(entry)) return [];
    return [{ entry, isTotal: place === total }];
  });
}

/** Balances that share a member which is on no page. */
function neighbours(ledger: Ledger, balanceAt: number): number[] {
  const { total, parts } = ledger.balances[balanceAt] ?? { total: -1, parts: [] };
  return [total, ...parts].flatMap((place) => {
    const entry = ledger.entries[place];
    return entry === undefined || isShown(entry) ? [] : (ledger.balancesOf[place] ?? []);
  });
}

function best(ledger: Ledger, known: readonly boolean[], found: readonly Candidate[]): Entry | undefined {
  const ranked = found.map(({ entry, isTotal }) => ({
    entry,
    cost: [
      entry.yieldsFirst ? 0 : 1,
      isTotal ? 2 : entry.units === 0 ? 1 : 0,
      newLoneGaps(ledger, known, entry),
      entry.units,
    ],
  }));
  ranked.sort((a, b) => compareCosts(a.cost, b.cost) || (a.entry.key < b.entry.key ? -1 : 1));
  return ranked[0]?.entry;
}

/** Balances that have no gap now and would have this one. */
function newLoneGaps(ledger: Ledger, known: readonly boolean[], entry: Entry): number {
  const balances = ledger.balancesOf[entry.at] ?? [];
  return balances.filter((at) => {
    const { total, parts } = ledger.balances[at] ?? { total: -1, parts: [] };
    return known[total] === true && parts.every((place) => known[place] === true);
  }).length;
}

function compareCosts(a: readonly number[], b: readonly number[]): number {
  for (const [place, cost] of a.entries()) {
    const difference = cost - (b[place] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}
