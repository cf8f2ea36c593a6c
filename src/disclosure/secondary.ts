import { nextToHide } from "./candidates.ts";
import { type Balance, type Entry, isKnown, type Ledger } from "./ledger.ts";
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
  // Where nothing was hidden since the last look, the reader knows no more than then.
  let changed = ledger.entries.filter((entry) => entry.guarded);
  for (;;) {
    const { known, given } = closeLoneGaps(ledger);
    const exposed = workedOut(ledger.threshold, [...changed, ...given], known);
    const beside = hideBeside(exposed);
    if (beside.length === 0) return;
    // Those that had to wait are looked at again, whatever group they are in.
    changed = [...beside, ...exposed];
  }
}

/** Hides one more member beside each count that can be worked out; those near one another wait for the next look. */
function hideBeside(exposed: readonly Entry[]): Entry[] {
  const touched = new Set<Balance>();
  return exposed.flatMap((entry) => {
    const other = nextToHide(entry.balances, { zeros: "last", touched });
    if (other === undefined) return [];
    other.hidden = "subtraction";
    // One gap more often settles several counts that were worked out from each other.
    for (const near of [other, ...entry.balances.flatMap(({ members }) => members)]) {
      for (const balance of near.balances) touched.add(balance);
    }
    return [other];
  });
}

/** Leaves no balance with one gap; returns which counts a reader then knows, by place in the ledger. */
function closeLoneGaps(ledger: Ledger): {
  readonly known: readonly boolean[];
  readonly given: readonly Entry[];
} {
  const given: Entry[] = [];
  for (;;) {
    const { known, loneGaps } = readOff(ledger);
    const touched = new Set<Balance>();
    for (const balance of loneGaps) {
      const other = nextToHide([balance], { zeros: "before total", touched });
      if (other === undefined) continue;
      other.hidden = "subtraction";
      given.push(other);
      for (const near of other.balances) touched.add(near);
    }
    if (touched.size === 0) return { known, given };
  }
}

/** Which counts a reader knows who can read these off: they and what follows by plain subtraction; by place in the ledger. */
export function knownFrom(ledger: Ledger, isRead: (entry: Entry) => boolean): readonly boolean[] {
  return readOff(ledger, isRead).known;
}

/** What follows from the pages by plain subtraction, and the balances whose one gap is a hidden count. */
function readOff(
  ledger: Ledger,
  isRead: (entry: Entry) => boolean = isKnown,
): { readonly known: boolean[]; readonly loneGaps: readonly Balance[] } {
  const known = ledger.entries.map(isRead);
  const isGap = (entry: Entry) => known[entry.at] === false;
  const gaps = ledger.balances.map(({ members }) => members.filter(isGap).length);
  const open = ledger.balances.filter(({ at }) => gaps[at] === 1);
  const loneGaps: Balance[] = [];
  for (const balance of open) {
    const gap = balance.members.find(isGap);
    if (gap === undefined) continue;
    if (gap.hidden !== undefined) {
      loneGaps.push(balance);
      continue;
    }
    known[gap.at] = true;
    for (const other of gap.balances) {
      gaps[other.at] = (gaps[other.at] ?? 0) - 1;
      // The loop goes on over what is added here.
      if (gaps[other.at] === 1) open.push(other);
    }
  }
  return { known, loneGaps: loneGaps.sort((a, b) => a.at - b.at) };
}
