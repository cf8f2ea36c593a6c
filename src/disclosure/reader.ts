import { differences } from "./differences.ts";
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
      const all = [...equations, ...differences(equations), ...solved];
      const told = (reader: Reader) => tighten(all, limitsOf(unknowns, threshold, reader));
      const [plain, guessing] = [told("plain"), told("guessing")];
      const guarded = unknowns.filter((entry) => entry.guarded);
      // A cautious reader knows no more than a plain one.
      const isLifted = guarded.some((entry) => (plain.get(entry.at) ?? OPEN).low > 1);
      const cautious = isLifted ? told("cautious") : undefined;
      return guarded.filter((entry) => {
        const { low, high } = cautious?.get(entry.at) ?? OPEN;
        const guess = guessing.get(entry.at) ?? OPEN;
        if (low === high || guess.low === guess.high) return true;
        // Few persons with many units: the units alone have no range to keep to.
        return entry.units < threshold && (low > 1 || (plain.get(entry.at) ?? OPEN).high < threshold - 1);
      });
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

/** Takes a hidden count for 0 at least, for 1 at least, or for small where it is so. */
type Reader = "cautious" | "plain" | "guessing";

const OPEN: Limits = { low: 0, high: Number.POSITIVE_INFINITY };

function limitsOf(unknowns: readonly Entry[], threshold: number, reader: Reader): Map<number, Limits> {
  return new Map(
    unknowns.map((entry) => {
      const low = reader !== "cautious" && entry.places > 0 && entry.units > 0 ? 1 : 0;
      const small = reader === "guessing" && entry.guarded && entry.units < threshold;
      return [entry.at, { low, high: small ? threshold - 1 : OPEN.high }];
    }),
  );
}
