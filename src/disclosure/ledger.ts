import { ArgumentError } from "../base/errors.ts";
import type { Count, Relation } from "./exhibit.ts";
import type { Limits } from "./limits.ts";

/** Why a count is not shown. "subtraction": it would give back a small one; "held": beside a report that its readers hold. */
export type HiddenBecause = "small" | "subtraction" | "held";

/**
 * At risk is still told roughly when it is given up; who left otherwise matters less than the events. Kept is what an
 * exhibit marks so.
 */
export const RANKS = ["at risk", "left otherwise", "other", "kept"] as const;
export type Rank = (typeof RANKS)[number];

/** One count of the report, however many exhibits name it. */
export interface Entry {
  readonly at: number;
  readonly key: string;
  readonly units: number;
  /** Smaller of units and persons: what the threshold applies to. */
  size: number;
  /** In how many places a reader meets it, or a number made from it. 0: it only follows from others. */
  places: number;
  /** Everybody of a whole: its complement is 0, and is guarded as if it were 1. */
  emptyComplement: boolean;
  /** What is given up first when one of several must go. */
  rank: Rank;
  /** Must not be worked out, shown or not. */
  guarded: boolean;
  hidden: HiddenBecause | undefined;
  /** The shown count from which it differs by a small one, where that is why it is hidden. */
  near?: Entry;
  /** A report that the readers hold tells it as it is: nothing can be kept by hiding it. */
  told?: boolean;
  /** Belongs to such a report, or lies between the two: this one does not name it. */
  isHeld?: boolean;
  /** What it may be by the rough number printed in its place, and whether the number itself is printed somewhere too. */
  about?: Limits;
  isExact?: true;
  /** Balances in which it stands. */
  readonly balances: Balance[];
}

/** total = sum of parts. */
export interface Balance {
  readonly at: number;
  readonly total: Entry;
  /** The total, then the parts. */
  readonly members: readonly Entry[];
}

/**
 * Every count of a report and how the counts depend on each other.
 *
 * One quantity is one entry, so that a count hidden in one table is hidden in all of them.
 */
export interface Ledger {
  readonly threshold: number;
  /** What a narrower circle may see: a wider one sees no more, so that both together tell no more than the first. */
  readonly narrower?: Ledger;
  readonly entries: Entry[];
  readonly byKey: Map<string, Entry>;
  readonly balances: Balance[];
  /** Names of the balances, so that none is noted twice. */
  readonly names: Set<string>;
}

export function openLedger(threshold: number, narrower?: Ledger): Ledger {
  return {
    ...(narrower === undefined ? {} : { narrower }),
    threshold,
    entries: [],
    byKey: new Map(),
    balances: [],
    names: new Set(),
  };
}

/** The entry of a count; the first naming opens it. `places`: how many new places show it. */
export function enter(ledger: Ledger, count: Count, places = 0): Entry {
  const { key, units, persons = units, keep } = count;
  requireCount(key, units);
  requireCount(key, persons);
  const entry = ledger.byKey.get(key) ?? open(ledger, key, units);
  if (entry.units !== units) {
    throw new ArgumentError(
      `disclose: count "${key}" has two values in this report; one key stands for one quantity (give the other one a key of its own)`,
    );
  }
  // A count without persons does not take them from a place that has them.
  entry.size = Math.min(entry.size, persons);
  entry.places += places;
  if (keep) entry.rank = "kept";
  return entry;
}

/**
 * The entry of a quantity that no exhibit gave a key, such as the at-risk count of a curve.
 *
 * Where the name is taken by a quantity of another size, the two are kept apart instead of refused.
 */
export function enterUnnamed(ledger: Ledger, key: string, units: number, places = 0): Entry {
  const ownKey = freeKey(ledger, key, units);
  return enter(ledger, { key: ownKey, units }, places);
}

/** The name itself, or the name with a number that is not the count's own. */
function freeKey({ byKey }: Ledger, key: string, units: number): string {
  let name = key;
  for (let again = 2; (byKey.get(name)?.units ?? units) !== units; again++) name = `${key} (${again})`;
  return name;
}

/** What is left of a whole without the part. */
export function enterRest(ledger: Ledger, whole: Count, part: Count): Entry {
  const units = whole.units - part.units;
  if (units < 0) {
    throw new ArgumentError(`disclose: part "${part.key}" is larger than its whole "${whole.key}"`);
  }
  const persons = fewestPersons(units, whole.persons, part.persons);
  const rest = enter(ledger, { key: `${whole.key} without ${part.key}`, units, persons });
  if (units === 0 && part.units > 0) rest.emptyComplement = true;
  balance(ledger, enter(ledger, whole), [enter(ledger, part), rest]);
  return rest;
}

/**
 * Fewest persons whom the units left over can belong to.
 *
 * A person with a unit on each side counts in both, so the difference is a lower limit; so is half the units,
 * because nobody has more than two knees.
 */
export function fewestPersons(
  units: number,
  ofWhole: number | undefined,
  ofPart: number | undefined,
): number {
  if (ofWhole === undefined || ofPart === undefined) return units;
  return Math.min(units, Math.max(ofWhole - ofPart, Math.ceil(units / 2)));
}

/** A relation declared by an exhibit. */
export function enterRelation(ledger: Ledger, relation: Relation): void {
  const { total, parts } = relation;
  const sum = parts.reduce((units, part) => units + part.units, 0);
  if (sum !== total.units) {
    throw new ArgumentError(`disclose: the parts of "${total.key}" do not add up to it`);
  }
  if (new Set(parts.map((part) => part.key)).size < parts.length) {
    throw new ArgumentError(`disclose: a part of "${total.key}" is named twice`);
  }
  balance(
    ledger,
    enter(ledger, total),
    parts.map((part) => enter(ledger, part)),
  );
}

/** Notes that the total is the sum of the parts; the same balance counts once. */
export function balance(ledger: Ledger, total: Entry, parts: readonly Entry[]): void {
  if (parts.length === 0 || parts.includes(total)) return;
  const places = parts.map((part) => part.at).sort((a, b) => a - b);
  const name = `${total.at}=${places.join("+")}`;
  if (ledger.names.has(name)) return;
  ledger.names.add(name);
  const found: Balance = { at: ledger.balances.length, total, members: [total, ...parts] };
  ledger.balances.push(found);
  for (const entry of found.members) entry.balances.push(found);
}

/** Can a reader read this number off a page? */
export function isShown(entry: Entry): boolean {
  return entry.places > 0 && entry.hidden === undefined;
}

/** Does a reader know this number, off this page or from a report they hold? */
export function isKnown(entry: Entry): boolean {
  return isShown(entry) || entry.told === true;
}

/** Why what rests on these counts is withheld; undefined where it is not. */
export function whyHidden(ledger: Ledger, counts: readonly Count[]): HiddenBecause | undefined {
  const reasons = counts.map((count) => ledger.byKey.get(count.key)?.hidden);
  return (["small", "subtraction", "held"] as const).find((reason) => reasons.includes(reason));
}

function open(ledger: Ledger, key: string, units: number): Entry {
  if (key === "") throw new ArgumentError("disclose: a count needs a key");
  const entry: Entry = {
    at: ledger.entries.length,
    key,
    units,
    size: units,
    places: 0,
    emptyComplement: false,
    rank: "other",
    guarded: false,
    hidden: undefined,
    balances: [],
  };
  ledger.entries.push(entry);
  ledger.byKey.set(key, entry);
  return entry;
}

function requireCount(key: string, value: number): void {
  if (Number.isSafeInteger(value) && value >= 0) return;
  throw new ArgumentError(`disclose: count "${key}" must be a whole number from 0 up`);
}
