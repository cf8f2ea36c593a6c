import type { ClearedCell } from "./cleared.ts";
import { type CoarseNumbers, coarseNumbers } from "./coarse-numbers.ts";
import type { Cell } from "./exhibit.ts";
import { type Entry, isShown, type Ledger } from "./ledger.ts";
import { isSmall } from "./primary.ts";
import { type Candidates, widenedNumbers } from "./widened-numbers.ts";

type Numbers = Extract<Cell, { kind: "numbers" }>;
type WithChanges = Numbers & { readonly oneMoreChanges: readonly number[] };

/** A cell in whole steps where every count of it is large enough by itself; undefined where it must be hidden. */
export function coarseCell(ledger: Ledger, cell: Cell): ClearedCell | undefined {
  return coarseBy(ledger, cell, (own, entries) => {
    // Beside the number that readers hold, a step would say more of a small change than that it is small.
    const isHeld = entries.some(({ hidden }) => hidden === "held");
    return widened(ledger, own, entries) ?? (own.inSteps && !isHeld ? inSteps(ledger, own) : undefined);
  });
}

function coarseBy(
  ledger: Ledger,
  cell: Cell,
  how: (cell: WithChanges, entries: readonly Entry[]) => CoarseNumbers | undefined,
): ClearedCell | undefined {
  if (cell.kind !== "numbers" || !hasChanges(cell)) return undefined;
  const entries = cell.restsOn.flatMap((count) => ledger.byKey.get(count.key) ?? []);
  if (entries.length < cell.restsOn.length) return undefined;
  // Of a count that may not be told at all, nothing is told. A size that is hidden changes nothing and hides everything.
  const isOut = (entry: Entry, at: number) =>
    isSmall(entry, ledger.threshold) || (entry.hidden !== undefined && !cell.oneMoreChanges[at]);
  if (entries.some(isOut)) return undefined;
  const coarse = how(cell, entries);
  if (coarse === undefined) return undefined;
  return { text: coarse.text, values: coarse.values, hidden: false, coarse: coarse.step };
}

function hasChanges(cell: Numbers): cell is WithChanges {
  return cell.oneMoreChanges !== undefined;
}

/** Where every hidden count gave way to one that is told, its candidates are known to everybody. */
function widened(ledger: Ledger, cell: WithChanges, entries: readonly Entry[]): CoarseNumbers | undefined {
  const hidden = entries.flatMap((entry, at) => (entry.hidden === undefined ? [] : [{ entry, at }]));
  const candidates = hidden.flatMap(
    ({ entry, at }) => candidatesOf(ledger, entry, cell.oneMoreChanges[at] ?? 0) ?? [],
  );
  return candidates.length < hidden.length ? undefined : widenedNumbers(cell, candidates);
}

/** All numbers that differ from the told one by a small one, on the side on which the count lies. */
function candidatesOf(
  { threshold, byKey, narrower }: Ledger,
  { key, units, near = narrower?.byKey.get(key)?.near }: Entry,
  oneMoreChanges: number,
): Candidates | undefined {
  const told = near === undefined ? undefined : byKey.get(near.key);
  if (told === undefined || !isShown(told)) return undefined;
  const most = threshold - 1;
  const [low, high] =
    told.units > units ? [told.units - most, told.units - 1] : [told.units + 1, told.units + most];
  return { units, low, high, oneMoreChanges };
}

/** A wider circle's steps are made of the narrower one's numbers, so that both together narrow nothing. */
function inSteps({ narrower, threshold }: Ledger, cell: WithChanges): CoarseNumbers | undefined {
  const most = Math.max(...cell.oneMoreChanges.map(Math.abs));
  if (narrower === undefined) return coarseNumbers(cell, most, threshold);
  const first = inSteps(narrower, cell);
  return first && coarseNumbers({ ...cell, values: first.values }, most, threshold);
}
