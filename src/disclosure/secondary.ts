import { nextToHide } from "./candidates.ts";
import { type Entry, isShown, type Ledger } from "./ledger.ts";
import { workedOut } from "./reader.ts";

/**
 * Hides whatever would give a hidden count back, until nothing does.
 *
 * Two checks take turns. First, no balance may have a single gap: its gap follows by subtraction, so one more
 * member is hidden. Then a reader is played who solves all balances of the report together and knows that counts
 * are whole and not negative (`workedOut`); what that reader can tell about a guarded count costs one more member
 * of a balance in which it stands.
 *
 * This is a heuristic: it hides enough, not as little as possible, and it promises only what the played reader can
 * check. Not covered: knowledge from outside the report, products and ratios of estimates, and combinations of
 * several inequalities that only an integer programme would find.
 */
export function hideWhatGivesBack(ledger: Ledger): void {
  for (;;) {
    const known = closeLoneGaps(ledger);
    const touched = new Set<number>();
    for (const entry of workedOut(ledger, known)) hideNear(ledger, known, entry, touched);
    if (touched.size === 0) return;
  }
}

/** Leaves no balance with one gap; returns which counts a reader then knows, by place in the ledger. */
function closeLoneGaps(ledger: Ledger): boolean[] {
  for (;;) {
    const { known, loneGaps } = readOff(ledger);
    const touched = new Set<number>();
    for (const at of loneGaps) {
      const entry = nextToHide(ledger, known, at, touched);
      if (entry !== undefined) give(ledger, entry, touched);
    }
    if (touched.size === 0) return known;
  }
}

/** What follows from the pages by plain subtraction, and the balances whose one gap is a hidden count. */
function readOff(ledger: Ledger): { known: boolean[]; loneGaps: number[] } {
  const known = ledger.entries.map(isShown);
  const gaps = ledger.balances.map(
    ({ total, parts }) => [total, ...parts].filter((place) => known[place] === false).length,
  );
  const loneGaps: number[] = [];
  const open = ledger.balances.flatMap((_, at) => (gaps[at] === 1 ? [at] : []));
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const { total, parts } = ledger.balances[at] ?? { total: -1, parts: [] };
    const gap = ledger.entries[[total, ...parts].find((place) => known[place] === false) ?? -1];
    if (gap === undefined) continue;
    if (gap.hidden !== undefined) {
      loneGaps.push(at);
      continue;
    }
    known[gap.at] = true;
    for (const other of ledger.balancesOf[gap.at] ?? []) {
      gaps[other] = (gaps[other] ?? 0) - 1;
      if (gaps[other] === 1) open.push(other);
    }
  }
  return { known, loneGaps: loneGaps.sort((a, b) => a - b) };
}

/** Hides one more member beside a count that can be worked out, unless this round has done so already. */
function hideNear(ledger: Ledger, known: readonly boolean[], entry: Entry, touched: Set<number>): void {
  const balances = ledger.balancesOf[entry.at] ?? [];
  if (balances.some((at) => touched.has(at))) return;
  for (const at of balances) {
    const other = nextToHide(ledger, known, at, touched);
    if (other === undefined) continue;
    give(ledger, other, touched);
    return;
  }
}

function give(ledger: Ledger, entry: Entry, touched: Set<number>): void {
  entry.hidden = "subtraction";
  for (const at of ledger.balancesOf[entry.at] ?? []) touched.add(at);
}
