import type { ClearedCell, ClearedExhibits } from "../../src/disclosure/cleared.ts";
import type { Cell, Count, Exhibit } from "../../src/disclosure/exhibit.ts";

/**
 * A reader of a cleared report who tries to get hidden counts back, written without the code under test.
 *
 * Knows how the exhibits hang together (declared relations, complements of shares, what happened between two
 * years) and the numbers on the pages, not the hidden ones.
 */
export interface Attacker {
  /** All counts of the report with their true values: to judge by, not to attack with. */
  readonly truth: ReadonlyMap<string, number>;
  readonly known: ReadonlySet<string>;
  /** Small counts by the rule: 1 to below the threshold, and complements of "everybody". */
  readonly small: readonly string[];
  /** total first, then its parts. */
  readonly sums: readonly (readonly string[])[];
}

export function attackerOf(exhibits: readonly Exhibit[], cleared: ClearedExhibits): Attacker {
  const truth = new Map<string, number>();
  const persons = new Map<string, number>();
  const known = new Set<string>();
  const everybody = new Set<string>();
  const sums: string[][] = [];
  const note = ({ key, units, persons: owners = units }: Count) => {
    truth.set(key, units);
    persons.set(key, Math.min(owners, persons.get(key) ?? owners));
    return key;
  };
  const see = (counts: readonly Count[], cell: ClearedCell | undefined) => {
    for (const one of counts) {
      note(one);
      if (cell !== undefined && !cell.hidden) known.add(one.key);
    }
  };
  for (const exhibit of exhibits) {
    const shown = cleared.exhibits.find(({ id }) => id === exhibit.id);
    if (exhibit.kind === "table" && shown?.kind === "table") {
      for (const [row, { cells }] of exhibit.rows.entries()) {
        for (const [column, cell] of cells.entries()) {
          // Part and percentage give the whole.
          see(countsOf(cell), shown.rows[row]?.cells[column]);
          if (cell.kind !== "share") continue;
          const rest = `${cell.whole.key} − ${cell.part.key}`;
          note({ key: rest, units: cell.whole.units - cell.part.units });
          if (cell.whole.units === cell.part.units && cell.part.units > 0) everybody.add(rest);
          sums.push([cell.whole.key, cell.part.key, rest]);
        }
      }
      for (const { total, parts } of exhibit.relations ?? []) sums.push([total, ...parts].map(note));
    }
    if (exhibit.kind === "flow" && shown?.kind === "flow") {
      for (const [at, box] of exhibit.boxes.entries()) {
        see([box.units], shown.boxes[at]?.units);
        for (const [out, removed] of (box.removed ?? []).entries()) {
          see([removed.units], shown.boxes[at]?.removed[out]?.units);
        }
        const next = exhibit.boxes[at + 1];
        const parts = next === undefined ? exhibit.groups : [next, ...(box.removed ?? [])];
        if (parts.length > 0) sums.push([box.units, ...parts.map((part) => part.units)].map(note));
      }
      for (const [at, group] of exhibit.groups.entries()) see([group.units], shown.groups[at]?.units);
    }
  }
  const threshold = cleared.threshold;
  const small = [...truth.keys()].filter((key) => {
    const units = truth.get(key) ?? 0;
    return units === 0 ? everybody.has(key) : Math.min(units, persons.get(key) ?? units) < threshold;
  });
  return { truth, known, small, sums };
}

/** What the sums leave open: each hidden count by the free ones it goes with. Exact, in fractions. */
export interface Solution {
  /** Counts that follow from the pages, and those on them. */
  readonly fixed: ReadonlySet<string>;
  /** Shift of each count that is not fixed, for one unit more of each free count. */
  readonly shifts: ReadonlyMap<string, ReadonlyMap<string, number>>;
}

export function solveSums({ truth, known, sums }: Attacker): Solution {
  const rows: Map<string, Fraction>[] = [];
  for (const [total = "", ...parts] of sums) {
    let row = new Map<string, Fraction>();
    for (const key of [total, ...parts]) {
      if (!known.has(key)) row.set(key, [key === total ? -1n : 1n, 1n]);
    }
    for (const done of rows) row = without(row, done);
    if (row.size === 0) continue;
    for (const [at, done] of rows.entries()) rows[at] = without(done, row);
    rows.push(row);
  }
  const fixed = new Set([...truth.keys()].filter((key) => known.has(key)));
  const shifts = new Map<string, Map<string, number>>();
  for (const row of rows) {
    const [first, ...free] = row;
    if (first === undefined) continue;
    const [pivot, factor] = first;
    if (free.length === 0) fixed.add(pivot);
    else shifts.set(pivot, new Map(free.map(([key, one]) => [key, -ratio(one, factor)])));
  }
  for (const key of truth.keys()) {
    if (!fixed.has(key) && !shifts.has(key)) shifts.set(key, new Map([[key, 1]]));
  }
  return { fixed, shifts };
}

function ratio(one: Fraction, other: Fraction): number {
  return Number(one[0] * other[1]) / Number(one[1] * other[0]);
}

type Fraction = readonly [top: bigint, bottom: bigint];

/** The row less as much of the other as removes the other's first unknown. */
function without(row: Map<string, Fraction>, other: Map<string, Fraction>): Map<string, Fraction> {
  const [pivot = "", [pivotTop, pivotBottom] = [1n, 1n]] = other.entries().next().value ?? [];
  const here = row.get(pivot);
  if (here === undefined) return row;
  const left = new Map(row);
  for (const [key, [top, bottom]] of other) {
    const [oldTop, oldBottom] = left.get(key) ?? [0n, 1n];
    const taken: Fraction = [here[0] * pivotBottom * top, here[1] * pivotTop * bottom];
    const newTop = oldTop * taken[1] - taken[0] * oldBottom;
    if (newTop === 0n) left.delete(key);
    else left.set(key, reduced(newTop, oldBottom * taken[1]));
  }
  return left;
}

function reduced(top: bigint, bottom: bigint): Fraction {
  let [a, b] = [top < 0n ? -top : top, bottom < 0n ? -bottom : bottom];
  while (b !== 0n) [a, b] = [b, a % b];
  const sign = bottom < 0n ? -1n : 1n;
  return [(sign * top) / a, (sign * bottom) / a];
}

/**
 * Is there another report with the same pages in which this count is a different whole number?
 *
 * Every count must stay at least 1, or 0 where the truth is 0 or stands on no page. A free count is shifted; what
 * falls too low by it is lifted by shifting another free count, up to eight times.
 */
export function couldBeOther({ truth }: Attacker, { shifts }: Solution, key: string): boolean {
  const own = shifts.get(key);
  if (own === undefined) return false;
  const lowest = (member: string) => ((truth.get(member) ?? 0) > 0 && !member.includes(" − ") ? 1 : 0);
  const shiftOf = (row: ReadonlyMap<string, number>, by: ReadonlyMap<string, number>) =>
    [...row].reduce((sum, [free, factor]) => sum + factor * (by.get(free) ?? 0), 0);
  const search = (by: ReadonlyMap<string, number>, lifts: number): boolean => {
    const tooLow = [...shifts].find(
      ([member, row]) => (truth.get(member) ?? 0) + shiftOf(row, by) < lowest(member),
    );
    if (tooLow === undefined) {
      const isWhole = [...shifts.values()].every((row) => Number.isInteger(shiftOf(row, by)));
      return isWhole && shiftOf(own, by) !== 0;
    }
    if (lifts === 0) return false;
    const [member, row] = tooLow;
    const missing = lowest(member) - (truth.get(member) ?? 0) - shiftOf(row, by);
    return [...row].some(([free, factor]) =>
      search(new Map([...by, [free, (by.get(free) ?? 0) + missing / factor]]), lifts - 1),
    );
  };
  return [...own.keys()].some((free) => [1, -1, 2, -2].some((by) => search(new Map([[free, by]]), 8)));
}

function countsOf(cell: Cell): readonly Count[] {
  if (cell.kind === "count") return [cell.count];
  if (cell.kind === "share") return [cell.part, cell.whole];
  return cell.kind === "text" || cell.kind === "none" ? [] : cell.restsOn;
}
