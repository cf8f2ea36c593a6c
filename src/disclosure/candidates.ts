import { type Balance, type Entry, isKnown, isShown, RANKS } from "./ledger.ts";

/**
 * The count to give up so that one of the balances has one more gap, or undefined where nothing is left to give up.
 *
 * In this order: by rank; a part that is not zero; a zero, where it helps at all, before the total; the
 * one that leaves fewest balances with a lone gap of their own; the smallest; the first by key.
 */
export function nextToHide(
  balances: readonly Balance[],
  { zeros, touched }: { readonly zeros: "before total" | "last"; readonly touched: ReadonlySet<Balance> },
): Entry | undefined {
  // Where the balances themselves show nothing, whatever their members follow from must give way.
  const seen = new Set(balances);
  let level = [...balances];
  while (level.length > 0) {
    if (level.some((balance) => touched.has(balance))) return undefined;
    const found = level.flatMap(shownMembers);
    if (found.length > 0) return best(found, zeros === "last" ? 3 : 1);
    level = level.flatMap(neighbours).filter((balance) => !seen.has(balance) && seen.add(balance));
  }
  return undefined;
}

interface Candidate {
  readonly entry: Entry;
  readonly isTotal: boolean;
}

function shownMembers({ total, members }: Balance): Candidate[] {
  return members
    .filter((entry) => isShown(entry) && !entry.told)
    .map((entry) => ({ entry, isTotal: entry === total }));
}

/** Balances that share a member which is on no page. */
function neighbours({ members }: Balance): Balance[] {
  return members.filter((entry) => !isKnown(entry)).flatMap((entry) => entry.balances);
}

function best(found: readonly Candidate[], zeroRank: number): Entry | undefined {
  const ranked = found.map(({ entry, isTotal }) => ({
    entry,
    cost: [
      RANKS.indexOf(entry.rank),
      isTotal ? 2 : entry.units === 0 ? zeroRank : 0,
      newLoneGaps(entry),
      entry.units,
    ],
  }));
  ranked.sort((a, b) => compareCosts(a.cost, b.cost) || (a.entry.key < b.entry.key ? -1 : 1));
  return ranked[0]?.entry;
}

/** Balances that show all their members now and would have this one gap. */
function newLoneGaps(entry: Entry): number {
  return entry.balances.filter(({ members }) => members.every(isShown)).length;
}

function compareCosts(a: readonly number[], b: readonly number[]): number {
  for (const [place, cost] of a.entries()) {
    const difference = cost - (b[place] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}
