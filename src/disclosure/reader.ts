import { eliminate } from "./elimination.ts";
import type { Equation } from "./equation.ts";
import type { Balance, Entry } from "./ledger.ts";
import { type Limits, tighten } from "./limits.ts";

/** Beyond this many equations that hang together, only the equations as they stand are used. */
const MOST_EQUATIONS_SOLVED = 400;

/**
 * The guarded counts that a patient reader could work out, in the order of the ledger.
 *
 * The reader solves the balances that hang together as linear equations and narrows each hidden count to the whole
 * numbers that are possible. A count is worked out where the range leaves out part of "1 to below the threshold",
 * or where guessing right which cells are small would leave one number. Looked at are the counts that hang together
 * with those of `starts`.
 */
export function workedOut(threshold: number, starts: readonly Entry[], known: readonly boolean[]): Entry[] {
  return groupsOfUnknowns(starts, known)
    .filter(({ unknowns }) => unknowns.some((entry) => entry.guarded))
    .flatMap(({ unknowns, equations }) => {
      const solved = equations.length <= MOST_EQUATIONS_SOLVED ? eliminate(equations) : [];
      const all = [...equations, ...solved];
      const plain = tighten(all, limitsOf(unknowns, threshold, false));
      const guessed = tighten(all, limitsOf(unknowns, threshold, true));
      return unknowns.filter(
        (entry) => entry.guarded && (isNarrow(entry, plain, threshold) || isSingle(guessed.get(entry.at))),
      );
    })
    .sort((a, b) => a.at - b.at);
}

interface Group {
  readonly unknowns: readonly Entry[];
  readonly equations: readonly Equation[];
}

/** Unknown counts that hang together by balances. */
function groupsOfUnknowns(starts: readonly Entry[], known: readonly boolean[]): Group[] {
  const seen = new Set<Entry>();
  const isUnknown = (entry: Entry) => known[entry.at] === false;
  return starts.filter(isUnknown).flatMap((start) => {
    if (seen.has(start)) return [];
    seen.add(start);
    const unknowns = [start];
    const balances = new Set<Balance>();
    // The loop goes on over what is added here.
    for (const entry of unknowns) {
      for (const balance of entry.balances) {
        if (balances.has(balance)) continue;
        balances.add(balance);
        unknowns.push(
          ...balance.members.filter((other) => isUnknown(other) && !seen.has(other) && seen.add(other)),
        );
      }
    }
    return [{ unknowns, equations: [...balances].map((balance) => equationOf(balance, isUnknown)) }];
  });
}

/** The value is taken from the hidden counts themselves: it is what the shown ones add up to. */
function equationOf({ total, members }: Balance, isUnknown: (entry: Entry) => boolean): Equation {
  const factors = new Map<number, number>();
  let value = 0;
  for (const entry of members.filter(isUnknown)) {
    const factor = entry === total ? -1 : 1;
    factors.set(entry.at, factor);
    value += factor * entry.units;
  }
  return { factors, value };
}

/** What the reader takes for granted: zeros are shown, and, guessing right, which of the hidden are small. */
function limitsOf(unknowns: readonly Entry[], threshold: number, guesses: boolean): Map<number, Limits> {
  return new Map(
    unknowns.map((entry) => {
      const low = entry.places > 0 && entry.units > 0 ? 1 : 0;
      const small = guesses && entry.guarded && entry.units < threshold;
      return [entry.at, { low, high: small ? threshold - 1 : Number.POSITIVE_INFINITY }];
    }),
  );
}

function isNarrow(entry: Entry, limits: ReadonlyMap<number, Limits>, threshold: number): boolean {
  const { low, high } = limits.get(entry.at) ?? { low: 0, high: Number.POSITIVE_INFINITY };
  // Few persons with many units: the units alone have no range to keep to.
  if (entry.units >= threshold) return low === high;
  return low > 1 || high < threshold - 1;
}

function isSingle(limits: Limits | undefined): boolean {
  return limits !== undefined && limits.low === limits.high;
}
