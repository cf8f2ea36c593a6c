import { eliminate } from "./elimination.ts";
import type { Equation } from "./equation.ts";
import type { Entry, Ledger } from "./ledger.ts";
import { type Limits, tighten } from "./limits.ts";

/** Beyond this many equations that hang together, only the equations as they stand are used. */
const MOST_EQUATIONS_SOLVED = 400;

/**
 * The guarded counts that a patient reader could work out, in the order of the ledger.
 *
 * The reader solves the balances that hang together as linear equations and narrows each hidden count to the whole
 * numbers that are possible. A count is worked out where the range leaves out part of "1 to below the threshold",
 * or where guessing right which cells are small would leave one number.
 */
export function workedOut(ledger: Ledger, known: readonly boolean[]): Entry[] {
  return groupsOfUnknowns(ledger, known)
    .flatMap(({ unknowns, equations }) => {
      const solved = equations.length <= MOST_EQUATIONS_SOLVED ? eliminate(equations) : [];
      const all = [...equations, ...solved];
      const plain = tighten(all, limitsOf(unknowns, ledger.threshold, false));
      const guessed = tighten(all, limitsOf(unknowns, ledger.threshold, true));
      return unknowns.filter(
        (entry) =>
          entry.guarded && (isNarrow(entry, plain, ledger.threshold) || isSingle(guessed.get(entry.at))),
      );
    })
    .sort((a, b) => a.at - b.at);
}

interface Group {
  readonly unknowns: readonly Entry[];
  readonly equations: readonly Equation[];
}

/** Unknown counts that hang together by balances, where any of them is guarded. */
function groupsOfUnknowns(ledger: Ledger, known: readonly boolean[]): Group[] {
  const seen = new Set<number>();
  const groups: Group[] = [];
  for (const start of ledger.entries) {
    if (!start.guarded || known[start.at] === true || seen.has(start.at)) continue;
    const places = [start.at];
    const balances = new Set<number>();
    seen.add(start.at);
    for (const place of places) {
      for (const at of ledger.balancesOf[place] ?? []) {
        if (balances.has(at)) continue;
        balances.add(at);
        for (const other of unknownMembers(ledger, known, at)) {
          if (seen.has(other)) continue;
          seen.add(other);
          places.push(other);
        }
      }
    }
    groups.push({
      unknowns: places.flatMap((place) => ledger.entries[place] ?? []),
      equations: [...balances].map((at) => equationOf(ledger, known, at)),
    });
  }
  return groups;
}

function unknownMembers(ledger: Ledger, known: readonly boolean[], at: number): number[] {
  const { total, parts } = ledger.balances[at] ?? { total: -1, parts: [] };
  return [total, ...parts].filter((place) => known[place] === false);
}

/** The value is taken from the hidden counts themselves: it is what the shown ones add up to. */
function equationOf(ledger: Ledger, known: readonly boolean[], at: number): Equation {
  const total = ledger.balances[at]?.total;
  const factors = new Map<number, number>();
  let value = 0;
  for (const place of unknownMembers(ledger, known, at)) {
    const factor = place === total ? -1 : 1;
    factors.set(place, factor);
    value += factor * (ledger.entries[place]?.units ?? 0);
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
