import { type Answer, computed, notComputed } from "../base/answer.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { countTree } from "./count-tree.ts";
import type { CoxFit } from "./cox-result.ts";
import type { CoxRows } from "./cox-rows.ts";
import { coxState } from "./cox-state.ts";
import { relativeHazards } from "./cox-sums.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Pairs of an event and a row still at risk after it, by whether the one with the event had the higher hazard. */
export interface Concordance {
  readonly kind: "concordance";
  readonly concordance: number;
  readonly standardError: number;
  readonly concordant: number;
  readonly discordant: number;
  /** Equal hazards: count one half. */
  readonly tiedHazards: number;
  readonly settings: { readonly pairs: "within strata" | "all"; readonly ties: string };
}

/**
 * How often, of two rows, the one with the event first was given the higher hazard by a fit.
 *
 * A pair is an event and a row of its stratum at risk at that tick that stays on beyond it: it leaves later, or is censored on
 * the tick. Two events on one tick are no pair. Equal hazards count one half; weights multiply. The standard error is that of
 * squared influence of rows. Cost: rows × log rows.
 *
 * Source: Harrell, Lee and Mark 1996; Therneau and Watson 2017.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * const fit = coxRegression(rows, matrix);
 * if (!fit.computed) throw new Error(fit.because);
 * coxConcordance(rows, matrix, fit); // 0.70 of the pairs: 5 as predicted, 1 not, 4 with equal hazards
 */
export function coxConcordance(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
): Answer<Concordance> {
  const set = coxState("coxConcordance", observations, matrix, fit);
  if (!set.computed) return set;
  const { rows, values, beta } = set.state;
  const rank = ranksOf(relativeHazards({ count: rows.count }, values, beta));
  const tally = pairTally(rows, rank);
  const [concordant, discordant, tied] = [tally.higher, tally.lower, tally.equal].map(halfSum) as [
    number,
    number,
    number,
  ];
  const pairs = concordant + discordant + tied;
  if (!(pairs > 0)) return notComputed("no-pairs", "no event has a row at risk after it to be compared with");
  const concordance = (concordant + tied / 2) / pairs;
  let squares = 0;
  for (let i = 0; i < rows.count; i += 1) {
    const right = tally.higher[i]! + tally.equal[i]! / 2;
    const all = tally.higher[i]! + tally.lower[i]! + tally.equal[i]!;
    const own = (right - concordance * all) / pairs;
    squares += own * own;
  }
  return computed({
    kind: "concordance",
    concordance,
    standardError: Math.sqrt(squares),
    concordant,
    discordant,
    tiedHazards: tied,
    settings: {
      pairs: rows.cells.begins.length > 1 ? "within strata" : "all",
      ties: "equal hazards count one half; two events on one tick are no pair",
    },
  });
}

/** Dense ranks from 0. */
function ranksOf(values: Float64Array): Int32Array {
  const sorted = values.slice().sort();
  let count = 0;
  for (let at = 0; at < sorted.length; at += 1)
    if (at === 0 || sorted[at] !== sorted[at - 1]) sorted[count++] = sorted[at]!;
  const ranks = new Int32Array(values.length);
  for (let at = 0; at < ranks.length; at += 1) {
    let [low, high] = [0, count - 1];
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (sorted[middle]! < values[at]!) low = middle + 1;
      else high = middle;
    }
    ranks[at] = low;
  }
  return ranks;
}

/** For each row, the weight of its pairs in which the event has the higher, the lower and an equal hazard. */
interface PairTally {
  readonly higher: Float64Array;
  readonly lower: Float64Array;
  readonly equal: Float64Array;
}

function pairTally(rows: CoxRows, rank: Int32Array): PairTally {
  const { count, cells } = rows;
  const series = () => new Float64Array(count);
  const tally = { higher: series(), lower: series(), equal: series() };
  for (let stratum = 0; stratum < cells.begins.length; stratum += 1) {
    const end = cells.begins[stratum + 1] ?? cells.count;
    countAtEvents(rows, rank, cells.begins[stratum]! + 1, end, tally);
    countAtRows(rows, rank, cells.begins[stratum]! + 1, end, tally);
  }
  return tally;
}

const weightOf = ({ weight }: CoxRows, i: number) => weight?.[i] ?? 1;

/** Back through the cells: whom each event is compared with. */
function countAtEvents(rows: CoxRows, rank: Int32Array, from: number, end: number, tally: PairTally): void {
  const { cells, entryCell } = rows;
  const isEvent = eventFlags(rows);
  const tree = countTree(rank);
  const entering = entryCell && byEntry(rows, from, end);
  for (let cell = end - 1; cell >= from; cell -= 1) {
    // Rows that come after this cell's tick are not at risk at it.
    for (const i of entering?.[cell - from] ?? []) tree.add(rank[i]!, -weightOf(rows, i));
    const [first, last] = [cells.leaving[cell]!, cells.leaving[cell + 1]!];
    for (let i = first; i < last; i += 1) if (isEvent[i] === 0) tree.add(rank[i]!, weightOf(rows, i));
    for (let i = first; i < last; i += 1) if (isEvent[i] === 1) compare(tree, rows, rank, i, 1, tally);
    for (let i = first; i < last; i += 1) if (isEvent[i] === 1) tree.add(rank[i]!, weightOf(rows, i));
  }
}

/** Forwards: with which events each row is compared while it stays. */
function countAtRows(rows: CoxRows, rank: Int32Array, from: number, end: number, tally: PairTally): void {
  const { cells, entryCell } = rows;
  const isEvent = eventFlags(rows);
  const tree = countTree(rank);
  const entering = entryCell && byEntry(rows, from, end);
  for (let cell = from; cell < end; cell += 1) {
    const [first, last] = [cells.leaving[cell]!, cells.leaving[cell + 1]!];
    for (let i = first; i < last; i += 1) if (isEvent[i] === 1) compare(tree, rows, rank, i, -1, tally);
    for (let i = first; i < last; i += 1) if (isEvent[i] === 1) tree.add(rank[i]!, weightOf(rows, i));
    for (let i = first; i < last; i += 1) if (isEvent[i] === 0) compare(tree, rows, rank, i, -1, tally);
    // What had happened when a row came in is not its pair.
    for (const i of entering?.[cell - from] ?? []) compare(tree, rows, rank, i, -1, tally, -1);
  }
}

/** side 1: the row has the event and the tree holds those at risk; −1: the tree holds events and the row was at risk. */
function compare(
  tree: ReturnType<typeof countTree>,
  rows: CoxRows,
  rank: Int32Array,
  i: number,
  side: 1 | -1,
  tally: PairTally,
  sign: 1 | -1 = 1,
): void {
  const below = tree.below(rank[i]!);
  const equal = tree.at(rank[i]!);
  const above = tree.total() - below - equal;
  const factor = sign * weightOf(rows, i);
  tally.higher[i]! += factor * (side === 1 ? below : above);
  tally.lower[i]! += factor * (side === 1 ? above : below);
  tally.equal[i]! += factor * equal;
}

function eventFlags({ count, eventRows }: CoxRows): Uint8Array {
  const flags = new Uint8Array(count);
  for (const i of eventRows) flags[i] = 1;
  return flags;
}

/** Rows by the cell after which they come in; those there from the start are left out. */
function byEntry({ entryCell, count }: CoxRows, from: number, end: number): number[][] {
  const lists: number[][] = Array.from({ length: Math.max(0, end - from) }, () => []);
  for (let i = 0; i < count; i += 1) {
    const cell = entryCell?.[i] ?? 0;
    if (cell >= from && cell < end) lists[cell - from]!.push(i);
  }
  return lists;
}

/** Each pair is told by both of its rows. */
function halfSum(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / 2;
}
