import { balance, type Entry, enter, type Ledger } from "../ledger.ts";
import type { HeldReport } from "./held-report.ts";
import { type TooNear, tooNear } from "./too-near.ts";

/**
 * Notes what the readers hold already: counts that they know, and those that may not be told to them beside it.
 *
 * What is unchanged is known, hidden or not, so nothing can be protected by hiding it. What differs by a small number is
 * hidden as a small count is, and the difference is guarded like one, by itself and in all sums.
 */
export function enterHeld(ledger: Ledger, reports: readonly HeldReport[]): void {
  const counts = new Map(ledger.entries.map(({ key, units }) => [key, units]));
  const known = reports.flatMap(({ told }) => told.counts);
  for (const { key, low, high } of known) {
    const entry = ledger.byKey.get(key);
    if (entry === undefined || low === undefined) continue;
    if (entry.units === low && low === high) entry.told = true;
  }
  for (const [place, report] of reports.entries()) {
    for (const [key, why] of tooNear(counts, report, ledger.threshold)) {
      const entry = ledger.byKey.get(key);
      if (entry !== undefined && !entry.told) keepApart(ledger, entry, why, place);
    }
  }
}

function keepApart(ledger: Ledger, entry: Entry, { held }: TooNear, place: number): void {
  entry.guarded = true;
  entry.hidden ??= "held";
  if (held === undefined || held.low !== held.high) return;
  const earlier = enter(ledger, { key: `held ${place}/${entry.key}`, units: held.low }, 1);
  const between = enter(ledger, {
    key: `since held ${place}/${entry.key}`,
    units: Math.abs(entry.units - held.low),
  });
  for (const one of [earlier, between]) one.isHeld = true;
  earlier.told = true;
  Object.assign(between, { guarded: true, hidden: "small" });
  entry.near ??= earlier;
  if (entry.units > earlier.units) balance(ledger, entry, [earlier, between]);
  else balance(ledger, earlier, [entry, between]);
}
