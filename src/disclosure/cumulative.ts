import { ArgumentError } from "../base/errors.ts";
import { balance, type Entry, enter, fewestPersons, isKnown, type Ledger } from "./ledger.ts";

/** Counts of one thing up to one year after another, the count over all follow-up last where there is one. */
export type Chain = readonly Entry[];

/**
 * Finds the cumulative counts of the report and enters what happened between two of them as counts too.
 *
 * A key "X/to:5" is the count of X up to year 5, and a key "X" the count over all follow-up.
 */
export function enterIncrements(ledger: Ledger): Chain[] {
  const chains = chainsOf(ledger);
  for (const chain of chains) {
    for (const [step, entry] of chain.entries()) {
      const before = chain[step - 1];
      if (before !== undefined) enterIncrement(ledger, before, entry);
    }
  }
  return chains;
}

/**
 * Thins a chain until no two counts left in it differ by a small one.
 *
 * What readers know from elsewhere stays; then those shown in most places, and of equals the earlier.
 */
export function thinChain(chain: Chain, threshold: number): void {
  const shown = chain
    .map((entry, step) => ({ entry, step }))
    .filter(({ entry }) => isKnown(entry) && entry.units > 0)
    .sort(
      (a, b) =>
        Number(b.entry.told ?? false) - Number(a.entry.told ?? false) ||
        b.entry.places - a.entry.places ||
        a.step - b.step,
    );
  const isNear = (one: Entry, other: Entry) =>
    other.units !== one.units && Math.abs(other.units - one.units) < threshold;
  const kept: Entry[] = [];
  for (const { entry } of shown) {
    const near = kept.find((other) => isNear(entry, other));
    if (near === undefined || entry.told) kept.push(entry);
    else {
      entry.hidden = "small";
      entry.near = near;
    }
  }
  // What is hidden for another reason lies next to a told count all the same: readers know between which numbers it is.
  for (const entry of chain) {
    const near = kept.find((other) => isNear(entry, other));
    if (entry.hidden !== undefined && near !== undefined) entry.near ??= near;
  }
}

function chainsOf(ledger: Ledger): Chain[] {
  const timed = new Map<string, { readonly year: number; readonly entry: Entry }[]>();
  for (const entry of ledger.entries) {
    const match = /^(.+)\/to:(\d+(?:\.\d+)?)$/.exec(entry.key);
    if (match === null) continue;
    const [, series = "", year = ""] = match;
    const steps = timed.get(series) ?? [];
    timed.set(series, steps);
    steps.push({ year: Number(year), entry });
  }
  return [...timed].map(([series, steps]) => {
    const chain = steps.sort((a, b) => a.year - b.year).map((step) => step.entry);
    const overall = ledger.byKey.get(series);
    return overall === undefined ? chain : [...chain, overall];
  });
}

function enterIncrement(ledger: Ledger, before: Entry, entry: Entry): void {
  const units = entry.units - before.units;
  if (units < 0) {
    throw new ArgumentError(
      `disclose: count "${entry.key}" is smaller than "${before.key}"; counts up to a year cannot fall`,
    );
  }
  const persons = fewestPersons(units, entry.size, before.size);
  const between = enter(ledger, { key: `${entry.key} without ${before.key}`, units, persons });
  balance(ledger, entry, [before, between]);
}
