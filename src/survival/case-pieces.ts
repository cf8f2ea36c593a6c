import { ArgumentError } from "../base/errors.ts";
import type { Observations } from "./observations.ts";

/** What is known of a row as a piece of its case. All are 0 where rows are whole cases. */
export const PIECE = {
  /** The entry joins an earlier piece in the same group and stratum: nobody enters. */
  innerEntry: 1,
  /** The exit joins a later piece in the same group and stratum: nobody is censored. */
  innerExit: 2,
  /** The case already counts among the cases of this group and stratum. */
  countedBefore: 4,
} as const;

/** Refuses pieces of one case that overlap, leave a gap, or go on after an event. */
export function checkPieces(observations: Observations): void {
  const { caseId } = observations;
  if (caseId === undefined) return;
  const order = caseOrder(observations, caseId);
  for (let at = 1; at < order.length; at += 1) {
    const [before, after] = [order[at - 1]!, order[at]!];
    if (caseId[before] === caseId[after]) checkJoin(observations, before, after);
  }
}

/** Flags of `PIECE` for every row, or undefined where rows are whole cases. */
export function pieceFlags(observations: Observations): Uint8Array | undefined {
  if (observations.caseId === undefined) return undefined;
  const flags = new Uint8Array(observations.rows);
  forEachCase(observations, (allRows) => {
    // A row of weight 0 is left out, so the pieces beside it do not join.
    const rows = allRows.filter((row) => observations.weight?.values[row] !== 0);
    rows.forEach((row, k) => {
      const before = rows[k - 1];
      if (before !== undefined && isSameCell(observations, before, row) && joins(observations, before, row)) {
        flags[row] = (flags[row] ?? 0) | PIECE.innerEntry;
        flags[before] = (flags[before] ?? 0) | PIECE.innerExit;
      }
      if (rows.slice(0, k).some((earlier) => isSameCell(observations, earlier, row))) {
        flags[row] = (flags[row] ?? 0) | PIECE.countedBefore;
      }
    });
  });
  return flags;
}

/** Calls back with the rows of each case in order of entry. */
function forEachCase(observations: Observations, visit: (rows: number[]) => void): void {
  const { caseId, rows } = observations;
  if (caseId === undefined) return;
  const order = caseOrder(observations, caseId);
  for (let from = 0; from < rows; ) {
    let to = from + 1;
    while (to < rows && caseId[order[to]!] === caseId[order[from]!]) to += 1;
    visit(Array.from(order.subarray(from, to)));
    from = to;
  }
}

/** Rows by case, and those of a case by entry. Mostly they come in that order: then nothing is sorted. */
function caseOrder(observations: Observations, caseId: Int32Array): Int32Array {
  const isAfter = (a: number, b: number) =>
    caseId[a]! - caseId[b]! || entryOf(observations, a) - entryOf(observations, b);
  const order = Int32Array.from(caseId.keys());
  const isSorted = order.every((row) => row === 0 || isAfter(row, row - 1) >= 0);
  return isSorted ? order : order.sort(isAfter);
}

function checkJoin(observations: Observations, before: number, after: number): void {
  const [first, second] = [before, after].map((row) => row + 1);
  if (observations.event[before] !== 0) {
    throw new ArgumentError(
      `checkObservations: row ${first}: its case goes on in row ${second} after an event; only the last piece may hold one`,
    );
  }
  const gap = entryOf(observations, after) - (observations.exit[before] ?? 0);
  if (gap === 0) return;
  throw new ArgumentError(
    `checkObservations: rows ${first} and ${second} of one case ${gap < 0 ? "overlap" : "leave a gap"}; ` +
      "each piece must begin on the tick on which the one before ends",
  );
}

function joins(observations: Observations, before: number, after: number): boolean {
  return observations.exit[before] === entryOf(observations, after);
}

function isSameCell({ group, stratum }: Observations, a: number, b: number): boolean {
  return group.codes[a] === group.codes[b] && stratum.codes[a] === stratum.codes[b];
}

function entryOf(observations: Observations, row: number): number {
  return observations.entry?.[row] ?? -1;
}
